import { chanceFrom } from '../../science/maths/index.ts';

export const RUN_ORDER_METHOD = 'spread by kind, drawn within, 1';

/**
 * An order in which every kind of run is spread over the whole sitting and its place within each stretch is left to
 * chance: the i-th of n runs of a kind falls somewhere in the i-th n-th part of the time. A drift of the day (dust, a tired
 * hand, a wearing tool) then meets runs and controls alike.
 * Same seed, same order. Stratified random allocation; the spreading over equal stretches is ours.
 * Errors: RangeError where the seed is not a whole number.
 */
export function interleaved<T>(runs: readonly T[], kindOf: (run: T) => string, seed: number): readonly T[] {
  const chance = chanceFrom(seed);
  const kinds = [...new Set(runs.map(kindOf))].sort();
  const placed = kinds.flatMap((kind) => {
    const ofKind = shuffled(
      runs.filter((run) => kindOf(run) === kind),
      chance.uniform,
    );
    return ofKind.map((run, at) => ({ run, place: (at + chance.uniform()) / ofKind.length }));
  });
  return placed.sort((a, b) => a.place - b.place).map(({ run }) => run);
}

/** Every order equally likely. Source: Fisher & Yates 1938, in Durstenfeld's form (CACM 1964, algorithm 235). */
function shuffled<T>(given: readonly T[], uniform: () => number): readonly T[] {
  const order = [...given];
  for (let at = order.length - 1; at > 0; at--) {
    const other = Math.floor(uniform() * (at + 1));
    [order[at], order[other]] = [order[other]!, order[at]!];
  }
  return order;
}
