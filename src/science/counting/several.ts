/**
 * Several comparisons read together: p values raised so that the chance of any false one stays at the level (Holm).
 * Source: Holm 1979, Scand. J. Stat. 6:65–70.  Holds for: any dependence between them.
 * Deceives when: comparisons that were looked at and not reported are left out of the list.
 */
export function adjustedForSeveral(p: readonly number[]): number[] {
  const order = p.map((_, i) => i).sort((a, b) => p[a]! - p[b]!);
  const out = new Array<number>(p.length).fill(1);
  let highest = 0;
  order.forEach((at, rank) => {
    highest = Math.max(highest, Math.min(1, (p.length - rank) * p[at]!));
    out[at] = highest;
  });
  return out;
}
