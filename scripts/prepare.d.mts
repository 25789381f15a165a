/** Hash of everything that the build reads; `dist/.built-from` holds that of the last build. */
export function sourcesHash(): string;
