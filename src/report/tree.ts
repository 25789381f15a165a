/** A report as a tree of plain text and numbers. Every renderer walks the same tree; nothing in it is markup but charts. */
export interface Report {
  readonly title: string;
  readonly subtitle: string;
  /** Short remarks at the head, such as that all of it is invented. */
  readonly remarks: readonly string[];
  readonly sections: readonly Section[];
  readonly madeAt: string;
  readonly program: string;
}

export interface Section {
  readonly id: string;
  readonly title: string;
  readonly lead?: string;
  readonly blocks: readonly Block[];
}

/** Null: there is none, and the column says what that means. */
export type Cell = string | number | null;

export type Block =
  | { readonly kind: 'paragraph'; readonly text: string }
  | { readonly kind: 'heading'; readonly text: string }
  | { readonly kind: 'claim'; readonly text: string }
  | { readonly kind: 'list'; readonly items: readonly string[]; readonly ordered?: boolean }
  | {
      readonly kind: 'facts';
      readonly rows: readonly (readonly [name: string, value: string, note?: string])[];
    }
  | {
      readonly kind: 'table';
      readonly caption: string;
      readonly columns: readonly {
        readonly head: string;
        readonly numeric?: boolean;
        /** Never broken into lines, such as a day. */
        readonly tight?: boolean;
        /** Sentences: takes the room that there is, and may be broken. */
        readonly wide?: boolean;
        readonly none?: string;
      }[];
      readonly rows: readonly (readonly Cell[])[];
    }
  /** `svg` is the text of one of our charts, which escape every name; `words` says the same without seeing it. */
  | { readonly kind: 'chart'; readonly svg: string; readonly caption: string; readonly words: string }
  | {
      readonly kind: 'charts';
      readonly charts: readonly { readonly svg: string; readonly caption: string }[];
      readonly words: string;
    }
  | { readonly kind: 'pieces'; readonly pieces: readonly PictureOfPiece[] }
  | { readonly kind: 'cautions'; readonly items: readonly string[] }
  /** Where the reader's recount stands, where there is one. */
  | { readonly kind: 'recount' };

export interface PictureOfPiece {
  readonly image: string;
  readonly widthUm: number;
  /** Length of the scale bar. */
  readonly barUm: number;
  readonly caption: string;
}

export const paragraph = (text: string): Block => ({ kind: 'paragraph', text });
export const heading = (text: string): Block => ({ kind: 'heading', text });
export const list = (items: readonly string[], ordered = false): Block => ({ kind: 'list', items, ordered });
