/** A trouble and what became of it. */
export interface Told {
  readonly where: 'folder' | 'group';
  readonly what: string;
  /** The sentence, or that there is none because nothing needs to be done. */
  readonly said: string;
  readonly after: string;
}

export const NONE = '(nothing: it is no trouble)';
