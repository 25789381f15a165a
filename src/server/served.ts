import type { Tools } from '../actions/index.ts';
import type { Laboratory } from '../study/index.ts';
import type { Outcome } from '../units/index.ts';

/** Tiles of photographs for looking closely; kept where main says. */
export interface PhotoTiles {
  tile(
    sha256: string,
    at: { readonly level: number; readonly column: number; readonly row: number },
    original: <T>(use: (path: string) => Promise<T>) => Promise<T>,
  ): Promise<Outcome<Uint8Array>>;
}

/** What main lends to the server: the deeds' tools, and what only a server needs. */
export interface Served extends Tools {
  readonly laboratory: Laboratory;
  readonly version: string;
  readonly tiles: PhotoTiles;
  /** Who makes marks and brings photos in, on a laboratory of one person. */
  readonly person: string;
  /** The built screens; null: only the interface for programs is served. */
  readonly screens: string | null;
  /** Where machine failures are told. */
  log(text: string): void;
}
