/** Which piece of one finding is which of another on the same photograph: the same place and about the same size. */
import type { Particle } from '../science/imaging/finding.ts';
import { nearPoints } from '../science/maths/index.ts';

type Seen = Pick<Particle, 'centroidPx' | 'areaPx2' | 'feretMaxPx'>;

/** Middles within a quarter of the length and two pixels, areas within a factor of 1.7. Project choice. */
const APART = { ofLength: 0.25, px: 2 } as const;
const AREAS = 1.7;

const reachOf = ({ feretMaxPx }: Seen): number => APART.ofLength * feretMaxPx + APART.px;

const alike = (a: Seen, b: Seen): boolean => {
  const ratio = a.areaPx2 / b.areaPx2;
  const apart = Math.hypot(a.centroidPx[0] - b.centroidPx[0], a.centroidPx[1] - b.centroidPx[1]);
  return ratio > 1 / AREAS && ratio < AREAS && apart <= Math.min(reachOf(a), reachOf(b));
};

/** Pairs that are each other's nearest of those alike. */
export function samePieces<A extends Seen, B extends Seen>(
  before: readonly A[],
  now: readonly B[],
): ReadonlyMap<A, B> {
  const [were, are] = [before, now].map((pieces) => nearPoints(pieces.map((piece) => piece.centroidPx)));
  const pairs = new Map<A, B>();
  before.forEach((one, at) => {
    const found = are!.nearest(one.centroidPx, reachOf(one), (index) => alike(one, now[index]!));
    const other = now[found];
    if (!other) return;
    const back = were!.nearest(other.centroidPx, reachOf(other), (index) => alike(before[index]!, other));
    if (back === at) pairs.set(one, other);
  });
  return pairs;
}
