import type { RunId } from '../records/run.ts';
import type { Tap, TapDeed, TapKind } from '../records/tap.ts';

/** A tap as the bench needs it; one that waits on its device has no receipt yet. */
export type BenchTap = Pick<Tap, 'id' | 'deed' | 'at' | 'device' | 'number' | 'refusal'>;
export type TapOf<K extends TapKind> = BenchTap & { readonly deed: Extract<TapDeed, { readonly do: K }> };

/** The taps that stand: neither refused nor undone. An undo that was itself undone undoes nothing. */
export function standingTaps<T extends BenchTap>(taps: readonly T[]): readonly T[] {
  const undone = new Set<string>();
  for (const tap of [...taps].reverse()) {
    if (tap.refusal === null && tap.deed.do === 'undo' && !undone.has(tap.id)) undone.add(tap.deed.tap);
  }
  return taps.filter((tap) => tap.refusal === null && tap.deed.do !== 'undo' && !undone.has(tap.id));
}

/** The newest tap that can be undone; null where none is left. */
export const newestStanding = <T extends BenchTap>(taps: readonly T[]): T | null =>
  standingTaps(taps).at(-1) ?? null;

export const ofKind = <K extends TapKind>(taps: readonly BenchTap[], kind: K): readonly TapOf<K>[] =>
  taps.filter((tap): tap is TapOf<K> => tap.deed.do === kind);

/** Minutes between two moments of one device's clock; null where that clock ran backwards. */
export function minutesBetween(from: string, to: string): number | null {
  const minutes = (Date.parse(to) - Date.parse(from)) / 60_000;
  return minutes >= 0 ? minutes : null;
}

/** Taps by their run, each run's in their order. */
export function tapsByRun<T extends Pick<Tap, 'run'>>(taps: readonly T[]): ReadonlyMap<RunId, readonly T[]> {
  const groups = new Map<RunId, T[]>();
  for (const tap of taps) {
    const group = groups.get(tap.run);
    if (group) group.push(tap);
    else groups.set(tap.run, [tap]);
  }
  return groups;
}
