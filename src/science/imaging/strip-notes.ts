/**
 * Notes of a search in strips, in plain data: what was prepared, then what each tile row gave. A search that begins with
 * the notes of one that was broken off goes on where those end, and finds the same particles to the last digit.
 */
import type { Piece } from './piece.ts';
import type { Prepared } from './prepare.ts';
import type { OpenRuns } from './regions.ts';
import { type LatticeFacts, latticeFrom } from './scale/lattice-make.ts';

/** What was prepared, without a lattice's functions. */
export interface PreparedNote {
  readonly prepared: Prepared;
  readonly lattice: LatticeFacts | null;
}

/** What one tile row gave. */
export interface RowNote {
  /** First row that is not yet searched. */
  readonly next: number;
  /** Pieces that are whole since the note before. */
  readonly pieces: readonly Piece[];
  /** What later rows may still touch. */
  readonly open: OpenRuns;
}

export interface StripNotes {
  /** What an earlier search of the same photograph for the same wish noted, or null. */
  readonly earlier: { readonly prepared: PreparedNote; readonly rows: readonly RowNote[] } | null;
  add(note: PreparedNote | RowNote): void;
}

export const NO_NOTES: StripNotes = { earlier: null, add: () => {} };

export function preparedNote(prepared: Prepared): PreparedNote {
  const { membrane } = prepared;
  if (!membrane?.lattice) return { prepared, lattice: null };
  const { map, pitch, relativeUncertainty, print, lines, residualPx } = membrane.lattice;
  return {
    prepared: { ...prepared, membrane: { ...membrane, lattice: null } },
    lattice: { map, pitch, relativeUncertainty, print, lines, residualPx },
  };
}

export function preparedFrom({ prepared, lattice }: PreparedNote): Prepared {
  const { membrane } = prepared;
  if (!membrane || !lattice) return prepared;
  return {
    ...prepared,
    membrane: { ...membrane, lattice: latticeFrom(lattice, membrane.width, membrane.height) },
  };
}
