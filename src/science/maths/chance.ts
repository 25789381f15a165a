/** Chance that can be repeated: the same seed gives the same draws on every machine. */
export interface Chance {
  /** A whole number from 0 to 2³² − 1. */
  readonly word: () => number;
  /** Uniform over the open interval 0…1 (53 bits, never 0 or 1). */
  readonly uniform: () => number;
}

/**
 * Seeded chance by xoshiro128**, its state filled from the seed by a 32-bit mixing generator.
 * Source: Blackman & Vigna 2021, ACM Trans. Math. Softw. 47:36 (generator); Steele, Lea & Flood 2014 (mixing).
 * Deceives when: two studies share a seed and are treated as independent.
 */
export function chanceFrom(seed: number): Chance {
  if (!Number.isSafeInteger(seed)) throw new RangeError(`seed: a whole number is needed, given ${seed}`);
  let mix = (seed ^ Math.imul(Math.floor(seed / 4294967296), 0x9e3779b9)) >>> 0;
  const fill = (): number => {
    mix = (mix + 0x9e3779b9) >>> 0;
    let z = mix;
    z = Math.imul(z ^ (z >>> 16), 0x21f0aaad);
    z = Math.imul(z ^ (z >>> 15), 0x735a2d97);
    return (z ^ (z >>> 15)) >>> 0;
  };
  let a = fill();
  let b = fill();
  let c = fill();
  let d = fill() | 1;
  const turn = (x: number, k: number): number => (x << k) | (x >>> (32 - k));
  const word = (): number => {
    const result = Math.imul(turn(Math.imul(b, 5), 7), 9) >>> 0;
    const t = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= t;
    d = turn(d, 11);
    return result;
  };
  const uniform = (): number => ((word() >>> 5) * 67108864 + (word() >>> 6) + 0.5) / 9007199254740992;
  return { word, uniform };
}

/** A whole number from 0 to n − 1, each equally likely. */
export function drawBelow(chance: Chance, n: number): number {
  if (!(Number.isSafeInteger(n) && n > 0))
    throw new RangeError(`draw: a whole number above 0 is needed, given ${n}`);
  return Math.floor(chance.uniform() * n);
}

/** Standard normal, by Marsaglia's polar method (Marsaglia & Bray 1964). */
export function drawNormal(chance: Chance, mean = 0, sd = 1): number {
  for (;;) {
    const u = 2 * chance.uniform() - 1;
    const v = 2 * chance.uniform() - 1;
    const s = u * u + v * v;
    if (s < 1 && s > 0) return mean + sd * u * Math.sqrt((-2 * Math.log(s)) / s);
  }
}

/** Gamma with this shape and scale. Source: Marsaglia & Tsang 2000, ACM Trans. Math. Softw. 26:363. */
export function drawGamma(chance: Chance, shape: number, scale = 1): number {
  if (!(shape > 0)) throw new RangeError(`gamma draw: a shape above 0 is needed, given ${shape}`);
  if (shape < 1) return drawGamma(chance, shape + 1, scale) * chance.uniform() ** (1 / shape);
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const z = drawNormal(chance);
    const v = (1 + c * z) ** 3;
    if (v > 0 && Math.log(chance.uniform()) < 0.5 * z * z + d - d * v + d * Math.log(v)) return d * v * scale;
  }
}

/** Beta(a, b), from two gammas. */
export function drawBeta(chance: Chance, a: number, b: number): number {
  const x = drawGamma(chance, a);
  const y = drawGamma(chance, b);
  return x + y > 0 ? x / (x + y) : chance.uniform() < a / (a + b) ? 1 : 0;
}

/** Binomial(n, p), exact: the median-like order statistic halves n until it is small. Source: Relles 1972, JASA 67:612. */
export function drawBinomial(chance: Chance, n: number, p: number): number {
  if (!(Number.isSafeInteger(n) && n >= 0))
    throw new RangeError(`binomial draw: whole trials from 0, given ${n}`);
  if (!(p >= 0 && p <= 1)) throw new RangeError(`binomial draw: a probability from 0 to 1, given ${p}`);
  let found = 0;
  let left = n;
  let share = p;
  while (left > 25) {
    const rank = 1 + Math.floor(left / 2);
    const at = drawBeta(chance, rank, left + 1 - rank);
    if (at >= share) {
      left = rank - 1;
      share = at > 0 ? share / at : 0;
    } else {
      found += rank;
      left -= rank;
      share = (share - at) / (1 - at);
    }
  }
  for (let i = 0; i < left; i++) if (chance.uniform() < share) found++;
  return found;
}

/** Poisson, exact: large means are cut down through a gamma waiting time. Source: Ahrens & Dieter 1974, Computing 12:223. */
export function drawPoisson(chance: Chance, mean: number): number {
  if (!(mean >= 0 && mean < Infinity))
    throw new RangeError(`Poisson draw: a mean from 0 is needed, given ${mean}`);
  let found = 0;
  let rest = mean;
  while (rest > 20) {
    const events = Math.floor(0.875 * rest);
    const wait = drawGamma(chance, events);
    if (wait > rest) return found + drawBinomial(chance, events - 1, rest / wait);
    found += events;
    rest -= wait;
  }
  const stop = Math.exp(-rest);
  for (let product = chance.uniform(); product > stop; product *= chance.uniform()) found++;
  return found;
}

/** Negative binomial with this mean and shape (variance mean + mean²/shape); shape ∞ is Poisson. */
export function drawNegativeBinomial(chance: Chance, mean: number, shape: number): number {
  if (mean === 0 || shape === Infinity) return drawPoisson(chance, mean);
  return drawPoisson(chance, drawGamma(chance, shape, mean / shape));
}

/** The same things in a random order (a new list). Source: Durstenfeld 1964, Commun. ACM 7:420. */
export function shuffled<T>(chance: Chance, things: readonly T[]): T[] {
  const out = [...things];
  for (let i = out.length - 1; i > 0; i--) {
    const j = drawBelow(chance, i + 1);
    const kept = out[i]!;
    out[i] = out[j]!;
    out[j] = kept;
  }
  return out;
}
