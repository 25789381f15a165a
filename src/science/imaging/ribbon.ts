/** A fibre's outline from its middle line and its width: what is drawn where the pixels' own rim is hidden or shared. */
import type { Point } from './finding.ts';

/** Outline around a line with half width `half`, cut square at both ends. */
export function ribbon(line: readonly Point[], half: number): Point[] {
  if (line.length < 2) throw new RangeError(`ribbon: at least 2 points are needed, given ${line.length}`);
  const left: Point[] = [];
  const right: Point[] = [];
  const n = line.length;
  for (let i = 0; i < n; i++) {
    const [ax, ay] = line[Math.max(0, i - 2)]!;
    const [bx, by] = line[Math.min(n - 1, i + 2)]!;
    const d = Math.hypot(bx - ax, by - ay) || 1;
    const nx = (-(by - ay) / d) * half;
    const ny = ((bx - ax) / d) * half;
    const [x, y] = line[i]!;
    left.push([x + nx, y + ny]);
    right.push([x - nx, y - ny]);
  }
  return [...left, ...right.toReversed()];
}
