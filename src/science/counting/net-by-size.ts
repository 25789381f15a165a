import type { CategoryDesign } from './by-category.ts';
import type { Interval } from './interval.ts';
import { netInterval } from './net-interval.ts';
import { notLooked, type Seen } from './seen.ts';
import { intoBands, type SizeBands, type SizedParticle } from './size-bands.ts';

/** Chance that a piece of a band is found with these optics, from known pieces drawn into control photographs. */
export type ChanceOfFinding = (fromUm: number, toUm: number) => number | null;

/** The share of drawn pieces of a band that was found, all shapes and contrasts together; null where none was drawn. */
export const chanceFromDrawn =
  (
    cells: readonly { readonly sizeUm: number; readonly found: number; readonly drawn: number }[],
  ): ChanceOfFinding =>
  (fromUm, toUm) => {
    const mine = cells.filter((cell) => cell.sizeUm >= fromUm && cell.sizeUm < toUm);
    const drawn = mine.reduce((sum, cell) => sum + cell.drawn, 0);
    return drawn === 0 ? null : mine.reduce((sum, cell) => sum + cell.found, 0) / drawn;
  };

export interface SizedSides {
  readonly specimens: readonly SizedParticle[];
  readonly controls: readonly SizedParticle[];
}

/** What a band holds: one of the three zeros, or nothing because the question leaves its sizes out. */
export type BandSeen = Seen | { readonly kind: 'not-asked'; readonly because: string };

/** Sizes that pieces were sorted out by before: from, and up to but not with; null: no upper end. */
export interface AskedSizes {
  readonly fromUm: number;
  readonly toUm: number | null;
}

/** Net of one size band. */
export interface BandNet {
  readonly fromUm: number;
  readonly toUm: number;
  /** On the specimens' side: counted, could not have been seen, or not asked about. */
  readonly seen: BandSeen;
  readonly specimens: number;
  readonly controls: number;
  /** Never clipped; null where the band could not have been seen. */
  readonly net: number | null;
  readonly perGram: Interval | null;
  readonly partlyOutOfSight: boolean;
  /** The question begins or ends within the band: the rest of it is not counted. */
  readonly partlyNotAsked: boolean;
  /** Not worked into the net: the recovery of spiked runs already holds what is overlooked at its size. */
  readonly chanceOfFinding: number | null;
}

export interface BandedNet {
  readonly scheme: SizeBands;
  readonly bands: readonly BandNet[];
  /** Particles outside the scheme, both sides. */
  readonly below: number;
  readonly above: number;
}

/**
 * Net per gram of every size band of a scheme with its interval, without clipping; a band wholly under the size floor of
 * the optics reads “could not be seen”, one outside the question's sizes “not asked about”, and without a size floor none
 * below the smallest piece reads “not looked”. The same particles sorted by another scheme give the same total.
 * Source: netInterval for each band.  Holds for: counts that scatter no more than Poisson between runs.
 * Deceives when: a band is picked for being high; when recovery of a band differs from that of the spiked pieces.
 */
export function netBySize(
  sides: SizedSides,
  scheme: SizeBands,
  design: CategoryDesign,
  sizeFloorUm: number | null,
  chanceOfFinding: ChanceOfFinding = () => null,
  asked: AskedSizes = { fromUm: 0, toUm: null },
): BandedNet {
  const specimens = intoBands(sides.specimens, scheme, sizeFloorUm);
  const controls = intoBands(sides.controls, scheme, sizeFloorUm);
  // without a size floor, none in a band below the smallest piece found says nothing
  const unknownBelow =
    sizeFloorUm === null
      ? Math.min(...[...sides.specimens, ...sides.controls].map((p) => p.sizeUm as number))
      : 0;
  const countOf = (seen: Seen): number => (seen.kind === 'counted' ? seen.count : 0);
  const bands = specimens.bands.map((band, i): BandNet => {
    const other = controls.bands[i]!;
    const found = countOf(band.seen);
    const background = countOf(other.seen);
    const none = found + background === 0;
    const outOfSight = band.seen.kind !== 'counted' && other.seen.kind !== 'counted';
    const notAsked = none && !outOfSight && outside(band, asked);
    const unknown = none && !notAsked && band.toUm <= unknownBelow;
    const hidden = unknown || notAsked || outOfSight;
    return {
      fromUm: band.fromUm,
      toUm: band.toUm,
      seen: notAsked
        ? { kind: 'not-asked', because: `the question is about sizes ${sizesInWords(asked)}` }
        : unknown
          ? notLooked('how small a piece these optics show is not known')
          : outOfSight
            ? band.seen
            : { kind: 'counted', count: found },
      specimens: found,
      controls: background,
      net: hidden ? null : found - (background * design.specimenEffort) / design.controlEffort,
      perGram: hidden
        ? null
        : netInterval(
            {
              gross: found,
              grossEffort: design.gramEffort,
              background,
              backgroundEffort: (design.controlEffort * design.gramEffort) / design.specimenEffort,
              shares: design.shares,
            },
            design.confidence,
          ),
      partlyOutOfSight: band.partlyOutOfSight && !hidden,
      partlyNotAsked:
        !hidden && (band.fromUm < asked.fromUm || (asked.toUm !== null && band.toUm > asked.toUm)),
      chanceOfFinding: hidden ? null : chanceOfFinding(band.fromUm, band.toUm),
    };
  });
  return {
    scheme,
    bands,
    below: specimens.below + controls.below,
    above: specimens.above + controls.above,
  };
}

const outside = (band: { readonly fromUm: number; readonly toUm: number }, { fromUm, toUm }: AskedSizes) =>
  band.toUm <= fromUm || (toUm !== null && band.fromUm >= toUm);

const sizesInWords = ({ fromUm, toUm }: AskedSizes): string =>
  toUm === null ? `from ${fromUm} µm` : `from ${fromUm} to ${toUm} µm`;
