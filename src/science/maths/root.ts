/** A bracket that holds no sign change: the caller must widen it or take its end. */
export const changesSign = (atLow: number, atHigh: number): boolean =>
  atLow === 0 || atHigh === 0 || atLow < 0 !== atHigh < 0;

/**
 * Where a continuous function crosses zero between two points of opposite sign.
 * Source: Brent 1973, Algorithms for Minimization without Derivatives, ch. 4.
 * Throws RangeError when both ends have the same sign.
 */
export function findRoot(f: (x: number) => number, low: number, high: number, tolerance = 1e-13): number {
  let a = low;
  let b = high;
  let fa = f(a);
  let fb = f(b);
  if (!changesSign(fa, fb)) {
    throw new RangeError(`root: opposite signs are needed at ${low} and ${high}, found ${fa} and ${fb}`);
  }
  let c = a;
  let fc = fa;
  let step = b - a;
  let before = step;
  for (let i = 0; i < 300; i++) {
    if (fb < 0 === fc < 0) {
      c = a;
      fc = fa;
      step = b - a;
      before = step;
    }
    if (Math.abs(fc) < Math.abs(fb)) {
      a = b;
      b = c;
      c = a;
      fa = fb;
      fb = fc;
      fc = fa;
    }
    const near = 2 * Number.EPSILON * Math.abs(b) + 0.5 * tolerance * Math.max(1e-300, Math.abs(b));
    const half = 0.5 * (c - b);
    if (Math.abs(half) <= near || fb === 0) return b;
    if (Math.abs(before) >= near && Math.abs(fa) > Math.abs(fb)) {
      const s = fb / fa;
      let p: number;
      let q: number;
      if (a === c) {
        p = 2 * half * s;
        q = 1 - s;
      } else {
        const u = fa / fc;
        const r = fb / fc;
        p = s * (2 * half * u * (u - r) - (b - a) * (r - 1));
        q = (u - 1) * (r - 1) * (s - 1);
      }
      if (p > 0) q = -q;
      p = Math.abs(p);
      if (2 * p < Math.min(3 * half * q - Math.abs(near * q), Math.abs(before * q))) {
        before = step;
        step = p / q;
      } else {
        step = half;
        before = half;
      }
    } else {
      step = half;
      before = half;
    }
    a = b;
    fa = fb;
    b += Math.abs(step) > near ? step : half > 0 ? near : -near;
    fb = f(b);
  }
  return b;
}

/** Smallest whole number from `start` at which a condition that stays true once true holds. Doubles, then halves. */
export function firstWhole(holds: (n: number) => boolean, start = 0): number {
  if (holds(start)) return start;
  let low = start;
  let step = 1;
  while (!holds(low + step)) {
    low += step;
    step *= 2;
    if (low > 1e12) throw new RangeError('first whole number: the condition never holds up to 10¹²');
  }
  let high = low + step;
  while (high - low > 1) {
    const middle = low + Math.floor((high - low) / 2);
    if (holds(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/** Where a function with one valley between two points is lowest, by golden section. Source: Kiefer 1953. */
export function findLowest(f: (x: number) => number, low: number, high: number, tolerance = 1e-9): number {
  const golden = 0.6180339887498949;
  let a = low;
  let b = high;
  let x = b - golden * (b - a);
  let y = a + golden * (b - a);
  let fx = f(x);
  let fy = f(y);
  while (b - a > tolerance * Math.max(1e-300, Math.abs(a) + Math.abs(b))) {
    if (fx <= fy) {
      b = y;
      y = x;
      fy = fx;
      x = b - golden * (b - a);
      fx = f(x);
    } else {
      a = x;
      x = y;
      fx = fy;
      y = a + golden * (b - a);
      fy = f(y);
    }
  }
  return (a + b) / 2;
}
