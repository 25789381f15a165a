import type { Micrometres } from '../../units/index.ts';
import { couldNotBeSeen, counted, type Seen } from './seen.ts';

/** Size classes: band i runs from edge i (included) to edge i + 1 (not included; the last edge is included). */
export interface SizeBands {
  readonly id: 'iso-24187' | 'eu-2024-1441';
  readonly name: string;
  readonly edgesUm: readonly number[];
  /** Longest fibre that the scheme counts, where it differs. */
  readonly longestFibreUm: number | null;
  readonly source: string;
}

export const SIZE_BANDS: readonly SizeBands[] = [
  {
    id: 'iso-24187',
    name: 'ISO 24187:2023',
    edgesUm: [1, 5, 10, 50, 100, 500, 1000, 5000],
    longestFibreUm: null,
    source: 'ISO 24187:2023; edges from memory, unverified',
  },
  {
    id: 'eu-2024-1441',
    name: '(EU) 2024/1441',
    edgesUm: [20, 50, 100, 300, 1000, 5000],
    longestFibreUm: 15_000,
    source:
      'Commission Delegated Decision (EU) 2024/1441: range 20 µm to 5 mm, fibres to 15 mm (official summary); inner edges from memory, unverified',
  },
];

export interface SizedParticle {
  /** Largest Feret diameter; for fibres the length along the middle line. */
  readonly sizeUm: Micrometres | number;
  readonly fibre: boolean;
}

export interface Band {
  readonly fromUm: number;
  readonly toUm: number;
  readonly seen: Seen;
  /** True when the size floor of the optics lies within the band: its smaller part could not have been seen. */
  readonly partlyOutOfSight: boolean;
}

export interface Banded {
  readonly bands: readonly Band[];
  /** Outside the scheme, kept so that nothing is lost: bands + below + above = all particles. */
  readonly below: number;
  readonly above: number;
}

export function bandsOf(id: SizeBands['id']): SizeBands {
  const found = SIZE_BANDS.find((bands) => bands.id === id);
  if (!found)
    throw new RangeError(
      `size bands: one of ${SIZE_BANDS.map((b) => b.id).join(', ')} is needed, given ${id}`,
    );
  return found;
}

/**
 * The same particles sorted into the bands of a scheme. A band wholly under the size floor of the optics reads “could not
 * be seen”, not none; a particle that was found there nevertheless is counted and shown.
 */
export function intoBands(
  particles: readonly SizedParticle[],
  scheme: SizeBands,
  sizeFloorUm: number | null,
): Banded {
  const { edgesUm } = scheme;
  const last = edgesUm.length - 1;
  const counts = new Array<number>(last).fill(0);
  let below = 0;
  let above = 0;
  for (const { sizeUm, fibre } of particles) {
    if (!(sizeUm >= 0)) throw new RangeError(`size in µm: a number from 0 is needed, given ${sizeUm}`);
    const longest = fibre && scheme.longestFibreUm !== null ? scheme.longestFibreUm : edgesUm[last]!;
    if (sizeUm < edgesUm[0]!) below++;
    else if (sizeUm > longest) above++;
    else {
      let band = 0;
      while (band < last - 1 && sizeUm >= edgesUm[band + 1]!) band++;
      counts[band]!++;
    }
  }
  const floor = sizeFloorUm ?? 0;
  const bands = counts.map((count, i): Band => {
    const fromUm = edgesUm[i]!;
    const toUm = edgesUm[i + 1]!;
    const hidden = floor >= toUm && count === 0;
    return {
      fromUm,
      toUm,
      seen: hidden
        ? couldNotBeSeen(`pieces below ${floor} µm are not found with these optics`)
        : counted(count),
      partlyOutOfSight: floor > fromUm && !hidden,
    };
  });
  return { bands, below, above };
}
