/** Seeded chance for drawing: the same seed gives the same picture on every machine. */
export interface Chance {
  /** Uniform in [0, 1). */
  next(): number;
  between(low: number, high: number): number;
  /** Whole number in [low, high], both included. */
  whole(low: number, high: number): number;
  normal(): number;
  /** Lognormal around a median; `spread` is the standard deviation of the natural logarithm. */
  around(median: number, spread: number): number;
  poisson(mean: number): number;
  /** Counts that scatter more than Poisson: variance = mean + mean²/k (gamma-mixed Poisson). */
  clumped(mean: number, k: number): number;
  pick<T>(from: readonly T[]): T;
  yes(share: number): boolean;
  /** An independent stream, so that a change in one part of a picture leaves the others as they were. */
  branch(name: string): Chance;
}

function hash(text: string, from: number): number {
  let h = from ^ 0x9e3779b9;
  for (let i = 0; i < text.length; i++) {
    h = Math.imul(h ^ text.charCodeAt(i), 0x85ebca6b);
    h ^= h >>> 13;
  }
  h = Math.imul(h ^ (h >>> 16), 0xc2b2ae35);
  return (h ^ (h >>> 15)) >>> 0;
}

/** A 32-bit counter passed through a strong mixer; plenty for pictures, not for cryptography. */
export function chanceFrom(seed: number, name = ''): Chance {
  let state = hash(name, seed >>> 0);
  const start = state;
  const next = (): number => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
  const poisson = (mean: number): number => {
    if (mean > 60) return Math.max(0, Math.round(mean + Math.sqrt(mean) * normal()));
    let product = next();
    const limit = Math.exp(-mean);
    let n = 0;
    while (product > limit) {
      product *= next();
      n++;
    }
    return n;
  };
  /** Gamma with shape k and mean 1, as a sum of exponentials for whole k, by Wilson–Hilferty otherwise. */
  const gamma = (k: number): number => {
    if (Number.isInteger(k)) {
      let sum = 0;
      for (let i = 0; i < k; i++) sum -= Math.log(1 - next());
      return sum / k;
    }
    const c = 1 / (9 * k);
    return Math.max(0, (1 - c + Math.sqrt(c) * normal()) ** 3);
  };
  return {
    next,
    normal,
    poisson,
    between: (low, high) => low + (high - low) * next(),
    whole: (low, high) => low + Math.floor(next() * (high - low + 1)),
    around: (median, spread) => median * Math.exp(spread * normal()),
    clumped: (mean, k) => poisson(mean * gamma(k)),
    pick: (from) => from[Math.floor(next() * from.length)]!,
    yes: (share) => next() < share,
    branch: (branchName) => chanceFrom(start, branchName),
  };
}
