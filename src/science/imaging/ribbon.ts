/** A fibre's outline from its middle line and its width: what is drawn where the pixels' own rim is hidden or shared. */
import type { Point } from './finding.ts';

/** Outline around a line with half width `half`, round at both ends. */
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
  const cap = (end: Point, from: Point, to: Point): Point[] => {
    const start = Math.atan2(from[1] - end[1], from[0] - end[0]);
    let turn = Math.atan2(to[1] - end[1], to[0] - end[0]) - start;
    if (turn > 0) turn -= 2 * Math.PI;
    return [1, 2, 3].map((k) => {
      const t = start + (turn * k) / 4;
      return [end[0] + half * Math.cos(t), end[1] + half * Math.sin(t)] as const;
    });
  };
  const far = line[n - 1]!;
  const near = line[0]!;
  const outline = [
    ...left,
    ...cap(far, left[n - 1]!, right[n - 1]!),
    ...right.toReversed(),
    ...cap(near, right[0]!, left[0]!),
  ];
  return outline;
}
