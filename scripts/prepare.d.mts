/** Hash of everything that the build reads; `dist/.built-from` holds that of the last build. */
export function sourcesHash(): string;
/** Builds commands and screens when their sources are not those of the last build. */
export function build(): Promise<void>;
