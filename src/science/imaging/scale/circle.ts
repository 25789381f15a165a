/** Circles through steps of colour: guessed from triples, judged by how much of their arc is a step of one sign. */
import type { Cells } from './cells.ts';

/** A step of colour between neighbouring cells; (nx, ny) points from the darker to the brighter side. */
export interface Step {
  readonly x: number;
  readonly y: number;
  readonly nx: number;
  readonly ny: number;
  readonly size: number;
}

export interface Circle {
  readonly x: number;
  readonly y: number;
  readonly r: number;
}

const REACH = 2;

/** Places where the colour jumps within two cells, thinned to the crest of the jump; in cell units. */
export function stepsOf(cells: Cells, least: number): Step[] {
  const { columns, rows, rgb } = cells;
  const size = new Float32Array(columns * rows);
  const nx = new Float32Array(columns * rows);
  const ny = new Float32Array(columns * rows);
  for (let j = REACH; j < rows - REACH; j++) {
    for (let i = REACH; i < columns - REACH; i++) {
      let gx = 0;
      let gy = 0;
      let power = 0;
      for (let c = 0; c < 3; c++) {
        const at = (a: number, b: number) => rgb[((j + b) * columns + i + a) * 3 + c]!;
        const dx = at(REACH, 0) - at(-REACH, 0);
        const dy = at(0, REACH) - at(0, -REACH);
        gx += dx;
        gy += dy;
        power += dx * dx + dy * dy;
      }
      const k = j * columns + i;
      const g = Math.hypot(gx, gy);
      size[k] = Math.sqrt(power / 3);
      nx[k] = g > 0 ? gx / g : 0;
      ny[k] = g > 0 ? gy / g : 0;
    }
  }
  const steps: Step[] = [];
  for (let j = REACH + 1; j < rows - REACH - 1; j++) {
    for (let i = REACH + 1; i < columns - REACH - 1; i++) {
      const k = j * columns + i;
      const s = size[k]!;
      if (s < least) continue;
      const ahead = size[(j + Math.round(ny[k]!)) * columns + i + Math.round(nx[k]!)]!;
      const behind = size[(j - Math.round(ny[k]!)) * columns + i - Math.round(nx[k]!)]!;
      if (s < ahead || s < behind) continue;
      steps.push({ x: i + 0.5, y: j + 0.5, nx: nx[k]!, ny: ny[k]!, size: s });
    }
  }
  return steps;
}

function through(a: Step, b: Step, c: Step): Circle | null {
  const d = 2 * (a.x * (b.y - c.y) + b.x * (c.y - a.y) + c.x * (a.y - b.y));
  if (Math.abs(d) < 1e-6) return null;
  const [qa, qb, qc] = [a.x * a.x + a.y * a.y, b.x * b.x + b.y * b.y, c.x * c.x + c.y * c.y];
  const x = (qa * (b.y - c.y) + qb * (c.y - a.y) + qc * (a.y - b.y)) / d;
  const y = (qa * (c.x - b.x) + qb * (a.x - c.x) + qc * (b.x - a.x)) / d;
  return { x, y, r: Math.hypot(a.x - x, a.y - y) };
}

export interface JudgedCircle extends Circle {
  /** Steps on the circle that point along its radius, by sign: 1 when brighter inside. */
  readonly support: number;
  readonly brighterInside: boolean;
  /** Share of the arc within the picture that has a step. */
  readonly share: number;
  /** Length of that arc in cells. */
  readonly arc: number;
}

/** Length of arc inside the frame and which of its 256 parts are there. */
function arcInFrame(c: Circle, columns: number, rows: number): boolean[] {
  return Array.from({ length: 256 }, (_, i) => {
    const a = (2 * Math.PI * (i + 0.5)) / 256;
    const x = c.x + c.r * Math.cos(a);
    const y = c.y + c.r * Math.sin(a);
    return x > REACH && y > REACH && x < columns - REACH && y < rows - REACH;
  });
}

export function judgeCircle(c: Circle, steps: readonly Step[], cells: Cells, slack: number): JudgedCircle {
  const frame = arcInFrame(c, cells.columns, cells.rows);
  const hit = [new Uint8Array(256), new Uint8Array(256)] as const;
  const support = [0, 0];
  for (const s of steps) {
    const dx = s.x - c.x;
    const dy = s.y - c.y;
    const d = Math.hypot(dx, dy);
    if (Math.abs(d - c.r) > slack || d === 0) continue;
    const along = (s.nx * dx + s.ny * dy) / d;
    if (Math.abs(along) < 0.85) continue;
    const inside = along < 0 ? 1 : 0;
    support[inside]!++;
    const part = Math.floor(((Math.atan2(dy, dx) / (2 * Math.PI) + 1) % 1) * 256);
    // A step of one cell covers about 1/r radians.
    const wide = Math.ceil(256 / (2 * Math.PI * c.r));
    for (let k = -wide; k <= wide; k++) hit[inside]![(part + k + 256) % 256] = 1;
  }
  const inside = support[1]! >= support[0]! ? 1 : 0;
  let there = 0;
  let seen = 0;
  for (let i = 0; i < 256; i++) {
    if (!frame[i]) continue;
    there++;
    seen += hit[inside]![i]!;
  }
  return {
    ...c,
    support: support[inside]!,
    brighterInside: inside === 1,
    share: there > 0 ? seen / there : 0,
    arc: (there / 256) * 2 * Math.PI * c.r,
  };
}

/** The best circle of a radius within limits, in cells; `chance` is a seeded source of numbers from 0 to 1. */
export function bestCircle(
  steps: readonly Step[],
  cells: Cells,
  smallest: number,
  longest: number,
  chance: () => number,
): JudgedCircle | null {
  if (steps.length < 12) return null;
  let best: JudgedCircle | null = null;
  const worth = (c: JudgedCircle) => c.share * Math.min(c.support, c.arc);
  for (let n = 0; n < 1200; n++) {
    const pick = () => steps[Math.floor(chance() * steps.length)]!;
    const [a, b, c] = [pick(), pick(), pick()];
    if (Math.hypot(a.x - b.x, a.y - b.y) < 6 || Math.hypot(b.x - c.x, b.y - c.y) < 6) continue;
    const circle = through(a, b, c);
    if (!circle || circle.r < smallest || circle.r > longest) continue;
    const radial = (s: Step) => ((s.x - circle.x) * s.nx + (s.y - circle.y) * s.ny) / circle.r;
    const [ra, rb, rc] = [radial(a), radial(b), radial(c)];
    if (Math.abs(ra) < 0.85 || Math.sign(ra) !== Math.sign(rb) || Math.sign(rb) !== Math.sign(rc)) continue;
    const judged = judgeCircle(circle, steps, cells, 1);
    if (!best || worth(judged) > worth(best)) best = judged;
  }
  return best;
}

/** Circle nearest to weighted points: Gauss–Newton on distances (geometric fit). */
export function fitCircle(
  start: Circle,
  points: readonly { readonly x: number; readonly y: number; readonly w: number }[],
): Circle {
  let { x, y, r } = start;
  for (let round = 0; round < 8; round++) {
    const a = [0, 0, 0, 0, 0, 0];
    const b = [0, 0, 0];
    for (const p of points) {
      const dx = p.x - x;
      const dy = p.y - y;
      const d = Math.hypot(dx, dy);
      const [ux, uy, e] = [-dx / d, -dy / d, d - r];
      // Slopes of e: (ux, uy, −1).
      a[0]! += p.w * ux * ux;
      a[1]! += p.w * ux * uy;
      a[2]! += p.w * -ux;
      a[3]! += p.w * uy * uy;
      a[4]! += p.w * -uy;
      a[5]! += p.w;
      b[0]! -= p.w * ux * e;
      b[1]! -= p.w * uy * e;
      b[2]! += p.w * e;
    }
    const [m0, m1, m2, m3, m4, m5] = a as [number, number, number, number, number, number];
    const [b0, b1, b2] = b as [number, number, number];
    const det = m0 * (m3 * m5 - m4 * m4) - m1 * (m1 * m5 - m4 * m2) + m2 * (m1 * m4 - m3 * m2);
    if (!(Math.abs(det) > 1e-12)) break;
    x += (b0 * (m3 * m5 - m4 * m4) - m1 * (b1 * m5 - m4 * b2) + m2 * (b1 * m4 - m3 * b2)) / det;
    y += (m0 * (b1 * m5 - b2 * m4) - b0 * (m1 * m5 - m4 * m2) + m2 * (m1 * b2 - b1 * m2)) / det;
    r += (m0 * (m3 * b2 - m4 * b1) - m1 * (m1 * b2 - b1 * m2) + b0 * (m1 * m4 - m3 * m2)) / det;
  }
  return { x, y, r };
}
