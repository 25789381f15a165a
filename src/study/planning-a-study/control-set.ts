/**
 * The smallest set of controls that tells every cause of particles apart: each cause leaves its own pattern of controls
 * that hold it and controls that do not, so that an excess can be traced to it.
 */
import { leftOpen } from '../coverage/closing-control.ts';
import { fewOf } from '../few-of.ts';
import type { Cause } from '../step-kinds/index.ts';
import { CANDIDATES, type Candidate } from './candidates.ts';

type Pair = readonly [Cause, Cause];

export interface ChosenControl {
  readonly candidate: Candidate;
  /** Pairs of causes that it is the first in the list to tell apart. */
  readonly tellsApart: readonly Pair[];
  /** The same in a sentence. */
  readonly buys: string;
}

export interface ControlSet {
  readonly causes: readonly Cause[];
  /** The deciding one first, then each by what it buys for its work. */
  readonly chosen: readonly ChosenControl[];
  /** Causes that no control known here tells apart. */
  readonly together: readonly Pair[];
  readonly cost: number;
}

const pairsOf = (causes: readonly Cause[]): readonly Pair[] =>
  causes.flatMap((a, at) => causes.slice(at + 1).map((b): Pair => [a, b]));
const apart = ({ holds }: Candidate, [a, b]: Pair): boolean => holds.includes(a) !== holds.includes(b);

/** A control that holds nothing of what the work brings, or adds nothing to tell apart, is no candidate for it. */
const fitting = (causes: readonly Cause[]): readonly Candidate[] =>
  CANDIDATES.filter((candidate) => {
    if (candidate.name === 'other-tool') return causes.includes('tool') && causes.includes('act');
    if (candidate.name === 'matrix-blank') return causes.includes('matrix');
    if (candidate.name === 'reagent-blank') return causes.includes('reagent');
    if (candidate.name === 'rinse-blank') return causes.includes('liquid');
    if (candidate.name === 'vessel-blank') return causes.includes('vessel');
    if (candidate.name === 'open-dish') return causes.includes('air');
    return true;
  });

/** What the claim itself needs: everything but the product in one control. */
const DECIDING = 'act-control';

/**
 * Exact: every subset of the fitting candidates that holds the deciding control is looked at (at most 2¹⁰); of those that tell
 * apart as many pairs of causes as all candidates together, the one with the least work, then the fewest controls, then
 * the earliest in the list. Deterministic. Minimum separating set; exhaustive search.
 */
export function smallestControlSet(causes: readonly Cause[]): ControlSet {
  if (!causes.includes('product')) {
    throw new RangeError(`causes: the product is always one of them, given ${causes.join(', ')}`);
  }
  const candidates = fitting(causes);
  const pairs = pairsOf(causes);
  const can = pairs.filter((pair) => candidates.some((candidate) => apart(candidate, pair)));
  const masks = candidates.map((candidate) => can.map((pair) => apart(candidate, pair)));
  let best: readonly number[] = [];
  let least = Number.POSITIVE_INFINITY;
  for (let subset = 0; subset < 1 << candidates.length; subset += 1) {
    const members = candidates.flatMap((_, at) => ((subset >> at) & 1 ? [at] : []));
    if (!members.some((at) => candidates[at]!.name === DECIDING)) continue;
    const cost = members.reduce((sum, at) => sum + candidates[at]!.cost, 0);
    const better = cost < least - 1e-9 || (Math.abs(cost - least) <= 1e-9 && members.length < best.length);
    if (!better) continue;
    if (!can.every((_, pair) => members.some((at) => masks[at]![pair]))) continue;
    best = members;
    least = cost;
  }
  return {
    causes,
    chosen: ordered(
      best.map((at) => candidates[at]!),
      pairs,
    ),
    together: pairs.filter((pair) => !can.includes(pair)),
    cost: least,
  };
}

/** The deciding control first, then at each place the one that tells most apart for its work. */
function ordered(members: readonly Candidate[], pairs: readonly Pair[]): ChosenControl[] {
  const chosen: ChosenControl[] = [];
  const left = [...members];
  let open = pairs;
  while (left.length > 0) {
    const gain = (candidate: Candidate) => open.filter((pair) => apart(candidate, pair)).length;
    const next =
      left.find((candidate) => chosen.length === 0 && candidate.name === DECIDING) ??
      left.reduce((a, b) => (gain(b) / b.cost > gain(a) / a.cost + 1e-9 ? b : a));
    left.splice(left.indexOf(next), 1);
    const tellsApart = open.filter((pair) => apart(next, pair));
    open = open.filter((pair) => !tellsApart.includes(pair));
    chosen.push({ candidate: next, tellsApart, buys: buysSentence(next, tellsApart) });
  }
  return chosen;
}

const MOST_NAMED = 4;
const listed = (causes: readonly Cause[]): string => fewOf([...new Set(causes.map(leftOpen))], MOST_NAMED);

function buysSentence(candidate: Candidate, tellsApart: readonly Pair[]): string {
  if (tellsApart.length === 0) return 'Tells nothing apart that the others do not.';
  const holds = (cause: Cause) => candidate.holds.includes(cause);
  const inside = new Set(tellsApart.flatMap((pair) => pair.filter(holds)));
  const outside = new Set(tellsApart.flatMap((pair) => pair.filter((cause) => !holds(cause))));
  return `Tells ${listed([...outside])} apart from ${listed([...inside])}.`;
}

/** With the controls that there are: which pairs of causes stay tangled, and which one more control would part most of them. */
export function stillTangled(
  causes: readonly Cause[],
  have: readonly string[],
): { readonly tangled: readonly Pair[]; readonly next: ChosenControl | null } {
  const there = CANDIDATES.filter((candidate) => have.includes(candidate.name));
  const tangled = pairsOf(causes).filter((pair) => !there.some((candidate) => apart(candidate, pair)));
  const options = fitting(causes).filter((candidate) => !have.includes(candidate.name));
  const gain = (candidate: Candidate) => tangled.filter((pair) => apart(candidate, pair)).length;
  // Without the deciding control there is no background at all: it comes before any that only tells apart.
  const deciding = options.find((candidate) => candidate.name === DECIDING) ?? null;
  const best =
    deciding ??
    options.reduce<Candidate | null>(
      (a, b) => (gain(b) > 0 && (a === null || gain(b) / b.cost > gain(a) / a.cost + 1e-9) ? b : a),
      null,
    );
  if (best === null) return { tangled, next: null };
  const tellsApart = tangled.filter((pair) => apart(best, pair));
  return { tangled, next: { candidate: best, tellsApart, buys: buysSentence(best, tellsApart) } };
}
