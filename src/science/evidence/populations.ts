/** Do the pieces of specimen runs and of controls differ more than handing out the runs' labels anew would give? */
import { chanceFrom, lnChoose, shuffled } from '../maths/index.ts';

/** Pieces of one run; runs, not pieces, are what labels are handed to. */
export interface RunPieces {
  readonly specimen: boolean;
  readonly sizesUm: readonly number[];
  readonly shapes: readonly string[];
  readonly colours: readonly string[];
}

export interface PopulationTest {
  readonly what: 'size' | 'shape' | 'colour';
  /** 0 the same, 1 wholly apart. */
  readonly distance: number;
  readonly p: number;
  /** After Holm, for having looked three ways. */
  readonly adjusted: number;
  readonly smallest: number;
}

const MOST_WRITTEN_OUT = 5000;
const DRAWN = 1999;

/** Largest distance of the two cumulative curves (Kolmogorov's D). */
function apartInSize(a: readonly number[], b: readonly number[]): number {
  const x = [...a].sort((p, q) => p - q);
  const y = [...b].sort((p, q) => p - q);
  let i = 0;
  let j = 0;
  let most = 0;
  while (i < x.length && j < y.length) {
    const here = Math.min(x[i]!, y[j]!);
    while (i < x.length && x[i]! <= here) i++;
    while (j < y.length && y[j]! <= here) j++;
    most = Math.max(most, Math.abs(i / x.length - j / y.length));
  }
  return most;
}

/** Half the sum of differences between shares (total variation). */
function apartInKind(a: readonly string[], b: readonly string[]): number {
  const counts = new Map<string, [first: number, second: number]>();
  const of = (kind: string) => {
    const known = counts.get(kind) ?? [0, 0];
    counts.set(kind, known);
    return known;
  };
  for (const kind of a) of(kind)[0] += 1;
  for (const kind of b) of(kind)[1] += 1;
  let sum = 0;
  for (const [first, second] of counts.values()) sum += Math.abs(first / a.length - second / b.length);
  return sum / 2;
}

function* everyChoice(n: number, k: number): Generator<readonly number[]> {
  const pick = Array.from({ length: k }, (_, i) => i);
  for (;;) {
    yield pick;
    let place = k - 1;
    while (place >= 0 && pick[place] === n - k + place) place--;
    if (place < 0) return;
    pick[place]!++;
    for (let j = place + 1; j < k; j++) pick[j] = pick[j - 1]! + 1;
  }
}

/**
 * Three distances between pooled specimen and control pieces (size, shape, colour), each with the share of relabellings of
 * the runs that give as large a one. All relabellings up to 5 000, else seeded draws.
 * Source: Fisher 1935; Pitman 1937; adjustment: Holm 1979, Scand. J. Stat. 6:65.
 * Holds for: runs that could have been either. Deceives when: two or three runs a side: the smallest possible p is then large.
 * Null when either side has no piece: there is nothing to compare.
 */
export function comparePopulations(runs: readonly RunPieces[], seed = 1): readonly PopulationTest[] | null {
  const n = runs.length;
  const k = runs.filter((run) => run.specimen).length;
  const some = (specimen: boolean) => runs.some((run) => run.specimen === specimen && run.sizesUm.length > 0);
  if (k === 0 || k === n || !some(true) || !some(false)) return null;
  const distances = (isFirst: (at: number) => boolean): readonly [number, number, number] => {
    const a = runs.filter((_, at) => isFirst(at));
    const b = runs.filter((_, at) => !isFirst(at));
    const pooled = <T>(of: readonly RunPieces[], what: (run: RunPieces) => readonly T[]) => of.flatMap(what);
    if (!a.some((run) => run.sizesUm.length > 0) || !b.some((run) => run.sizesUm.length > 0))
      return [1, 1, 1];
    return [
      apartInSize(
        pooled(a, (run) => run.sizesUm),
        pooled(b, (run) => run.sizesUm),
      ),
      apartInKind(
        pooled(a, (run) => run.shapes),
        pooled(b, (run) => run.shapes),
      ),
      apartInKind(
        pooled(a, (run) => run.colours),
        pooled(b, (run) => run.colours),
      ),
    ];
  };
  const observed = distances((at) => runs[at]!.specimen);
  const ways = Math.round(Math.exp(lnChoose(n, k)));
  const hits = [0, 0, 0];
  let looked = 0;
  const look = (first: ReadonlySet<number>) => {
    looked++;
    distances((at) => first.has(at)).forEach((d, what) => {
      if (d >= observed[what]! - 1e-12) hits[what]!++;
    });
  };
  if (ways <= MOST_WRITTEN_OUT) {
    for (const choice of everyChoice(n, k)) look(new Set(choice));
  } else {
    const chance = chanceFrom(seed);
    const places = Array.from({ length: n }, (_, at) => at);
    look(new Set(places.filter((at) => runs[at]!.specimen)));
    for (let i = 0; i < DRAWN; i++) look(new Set(shuffled(chance, places).slice(0, k)));
  }
  const ps = hits.map((h) => h / looked);
  const order = [0, 1, 2].sort((a, b) => ps[a]! - ps[b]!);
  const adjusted = [0, 0, 0];
  let most = 0;
  order.forEach((what, rank) => {
    most = Math.max(most, Math.min(1, ps[what]! * (3 - rank)));
    adjusted[what] = most;
  });
  return (['size', 'shape', 'colour'] as const).map((what, at) => ({
    what,
    distance: observed[at]!,
    p: ps[at]!,
    adjusted: adjusted[at]!,
    smallest: 1 / looked,
  }));
}
