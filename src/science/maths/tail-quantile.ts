interface Tails {
  readonly lower: number;
  readonly upper: number;
}

/**
 * Finds s where the tails of a continuous distribution (on a transformed axis s over the whole line) have the wanted
 * logarithms: Newton on the logarithm of the smaller tail, kept inside a bracket that halves whenever Newton leaves it.
 * `lnDensity(s)` is the log density on the s axis.
 */
export function solveTail(
  lnP: number,
  lnQ: number,
  start: number,
  lnTails: (s: number) => Tails,
  lnDensity: (s: number) => number,
): number {
  const byLower = lnP <= lnQ;
  let low = -Infinity;
  let high = Infinity;
  let s = start;
  for (let i = 0; i < 200; i++) {
    const tails = lnTails(s);
    const gap = byLower ? tails.lower - lnP : lnQ - tails.upper;
    if (gap === 0) return s;
    if (gap < 0) low = s;
    else high = s;
    const tail = byLower ? tails.lower : tails.upper;
    let next = s - gap / Math.exp(lnDensity(s) - tail);
    if (!(next > low && next < high)) {
      if (low === -Infinity) next = s - Math.max(1, Math.abs(s));
      else if (high === Infinity) next = s + Math.max(1, Math.abs(s));
      else next = (low + high) / 2;
    }
    if (Math.abs(next - s) <= 2e-16 * Math.abs(s) || next === low || next === high) return next;
    s = next;
  }
  return s;
}
