/** Counts tries in a sliding window, so that guessing is slow. Kept in memory: a restart forgives. */
export interface Tries {
  /** False when there were too many; a try is counted either way. */
  allow(key: string, now: number): boolean;
  forget(key: string): void;
  /** The latest try does not count after all; those before it do. */
  takeBack(key: string): void;
}

/** Keys kept at once; the oldest are let go, so that inventing names fills no memory. */
const MOST_KEYS = 20_000;

export function tries(most: number, windowMs: number): Tries {
  const known = new Map<string, number[]>();
  return {
    allow(key, now) {
      const recent = (known.get(key) ?? []).filter((at) => now - at < windowMs);
      recent.push(now);
      known.delete(key);
      known.set(key, recent.slice(-most - 1));
      if (known.size > MOST_KEYS) known.delete(known.keys().next().value!);
      return recent.length <= most;
    },
    forget: (key) => void known.delete(key),
    takeBack: (key) => void known.get(key)?.pop(),
  };
}
