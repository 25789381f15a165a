/** Which piece of one finding is which of another on the same photograph: the same place and about the same size. */
import type { Particle } from '../science/imaging/finding.ts';

type Seen = Pick<Particle, 'centroidPx' | 'areaPx2' | 'feretMaxPx'>;

/** Middles within a quarter of the length and two pixels, areas within a factor of 1.7. Project choice. */
const APART = { ofLength: 0.25, px: 2 } as const;
const AREAS = 1.7;

const gap = (a: Seen, b: Seen): number =>
  Math.hypot(a.centroidPx[0] - b.centroidPx[0], a.centroidPx[1] - b.centroidPx[1]);

const alike = (a: Seen, b: Seen): boolean => {
  const ratio = a.areaPx2 / b.areaPx2;
  const reach = APART.ofLength * Math.min(a.feretMaxPx, b.feretMaxPx) + APART.px;
  return ratio > 1 / AREAS && ratio < AREAS && gap(a, b) <= reach;
};

/** Pairs that are each other's nearest of those alike. */
export function samePieces<A extends Seen, B extends Seen>(
  before: readonly A[],
  now: readonly B[],
): ReadonlyMap<A, B> {
  const nearest = <P extends Seen, Q extends Seen>(one: P, among: readonly Q[]): Q | null => {
    let best: Q | null = null;
    for (const other of among) {
      if (alike(one, other) && (best === null || gap(one, other) < gap(one, best))) best = other;
    }
    return best;
  };
  const pairs = new Map<A, B>();
  for (const one of before) {
    const other = nearest(one, now);
    if (other && nearest(other, before) === one) pairs.set(one, other);
  }
  return pairs;
}
