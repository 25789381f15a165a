/** What packing and unpacking a study need from outside: the rows of the schema's tables as they are, and an archive. */
import type { Id, Json } from '../../study/index.ts';
import type { Outcome } from '../../units/index.ts';

export type Row = Readonly<Record<string, Json>>;

export interface ColumnShape {
  readonly name: string;
  /** As Postgres names it, such as `uuid`, `double precision[]`, `timestamp with time zone`. */
  readonly type: string;
  readonly nullable: boolean;
  /** Numbered by the database itself: only keeps an order, and is numbered anew. */
  readonly generated: boolean;
}

/** A table of the schema and the records that its rows name. */
export interface TableShape {
  readonly name: string;
  readonly columns: readonly ColumnShape[];
  readonly links: readonly { readonly column: string; readonly table: string }[];
}

export interface StudyRows {
  shapes(): Promise<readonly TableShape[]>;
  /** Newest migration that the schema has. */
  schema(): Promise<string>;
  /** Rows of several tables at one moment, each in the order in which they were written. */
  collect(tables: readonly { readonly name: string; readonly where: RowsWanted }[]): Promise<Tables>;
  /** All of it in one transaction, or nothing; rows of `shared` tables that are there already stay as they are. */
  bringIn(tables: Tables, order: readonly string[], shared: readonly string[]): Promise<Outcome<void>>;
}

/** Rows of every table, by the table's name. */
export type Tables = ReadonlyMap<string, readonly Row[]>;

/** `all` of a table, or those whose column holds one of the ids that other tables' rows have. */
export type RowsWanted =
  | { readonly all: true }
  | { readonly column: string; readonly is: Id<'study'> }
  | { readonly column: string; readonly among: { readonly table: string; readonly column: string } };

/** Writes an archive; closed exactly once, by `end` or `abandon`. */
export interface ArchiveWriter {
  /** Gives size and SHA-256 of what was added. */
  addText(path: string, text: string): Promise<{ readonly bytes: number; readonly sha256: string }>;
  addFile(path: string, from: string): Promise<void>;
  end(): Promise<void>;
  abandon(): Promise<void>;
}

export interface ArchiveEntry {
  readonly path: string;
  readonly bytes: number;
}

/** An archive whose directory was read and holds nothing that could harm. */
export interface ArchiveReader {
  readonly entries: readonly ArchiveEntry[];
  /** Text and SHA-256 of its bytes. Refuses what is not as large as it says. */
  text(path: string): Promise<Outcome<{ readonly text: string; readonly sha256: string }>>;
  stream(path: string): Promise<AsyncIterable<Uint8Array>>;
  close(): Promise<void>;
}
