import type { Chance } from '../../../demo/drawing/chance.ts';
import { addPolygon, windowAround } from '../../../demo/drawing/coverage.ts';
import type { Spot } from '../../../demo/drawing/outline-measures.ts';
import { type Planes, ramp, wandering } from './planes.ts';

/** Unit vector in the photograph that points to the lamp. */
export type Lamp = readonly [x: number, y: number];

export interface Body {
  readonly colour: readonly [number, number, number];
  /** Share of the ground's light that passes the thickest part: 0 hides it, 1 is clear. */
  readonly clear: number;
  /** Width of the sloping rim, px. */
  readonly rim: number;
  /** How strongly slopes are shaded. */
  readonly slope: number;
  readonly shadow: number;
  /** Highlights on a ball. */
  readonly shine: number;
  readonly ball: boolean;
  /** Thickness at the very rim, as a share of the thickest part: near 1 hides the ground up to the edge. */
  readonly edge: number;
}

/** Distance of a point to the nearest side of an outline. */
function toSide(x: number, y: number, outline: readonly Spot[]): number {
  let best = 1e18;
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
    const [ax, ay] = outline[j]!;
    const dx = outline[i]![0] - ax;
    const dy = outline[i]![1] - ay;
    const t = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)));
    const d = (x - ax - t * dx) ** 2 + (y - ay - t * dy) ** 2;
    if (d < best) best = d;
  }
  return Math.sqrt(best);
}

/** Paints a body by its distance to the rim: light passes by Beer–Lambert, slopes are lit by the lamp, a shadow falls away from it. */
export function paintBody(
  planes: Planes,
  outline: readonly Spot[],
  body: Body,
  lamp: Lamp,
  chance: Chance,
): void {
  const reach = 3 + Math.ceil(body.rim + 4);
  const cover = windowAround(outline, reach);
  addPolygon(cover, outline);
  const { width: w, height: h, left, top, share } = cover;
  const depth = new Float32Array(w * h);
  const far = new Float32Array(w * h);
  const scale = ball(outline);
  const fall = Math.min(4, 0.8 + 0.25 * body.rim);
  const soft = fall + 1.5;
  for (let y = 0; y < h; y++) {
    for (let x = 0; x < w; x++) {
      const i = y * w + x;
      const d = toSide(x + left + 0.5, y + top + 0.5, outline);
      if (share[i]! > 0) depth[i] = d;
      else far[i] = d;
    }
  }
  const grainX = wandering(3.3, chance);
  const grainY = wandering(4.1, chance);
  const { rgb, width, height } = planes;
  for (let y = 1; y < h - 1; y++) {
    for (let x = 1; x < w - 1; x++) {
      const px = x + left;
      const py = y + top;
      if (px < 0 || py < 0 || px >= width || py >= height) continue;
      const i = y * w + x;
      const at = py * width + px;
      const s = share[i]!;
      if (s < 1 && body.shadow > 0) {
        // Where a step towards the lamp leads under the body, its shadow lies; soft, because lamps are broad.
        const sx = Math.min(w - 1, Math.max(0, Math.round(x + lamp[0] * fall)));
        const sy = Math.min(h - 1, Math.max(0, Math.round(y + lamp[1] * fall)));
        const under = depth[sy * w + sx]! - far[sy * w + sx]!;
        const near = ramp(-soft, soft, under);
        const loss = 1 - body.shadow * near * (1 - s);
        for (const plane of rgb) plane[at] = plane[at]! * loss;
      }
      if (s <= 0) continue;
      // Even the rim of a ball is met by light twice: it never fades to nothing.
      const thick = body.ball
        ? body.edge + (1 - body.edge) * domed(depth[i]! / scale)
        : Math.min(1, body.edge + ((1 - body.edge) * depth[i]!) / body.rim);
      const gx = (tall(depth[i + 1]!, body, scale) - tall(depth[i - 1]!, body, scale)) / 2;
      const gy = (tall(depth[i + w]!, body, scale) - tall(depth[i - w]!, body, scale)) / 2;
      const facing = -(gx * lamp[0] + gy * lamp[1]);
      const lit = Math.max(
        0.06,
        1 + body.slope * facing + 0.05 * grainX(px + py * 0.3) * grainY(py - px * 0.2),
      );
      const pass = body.clear ** thick;
      // A clear body still bends light at its rim: dark all round, bright on the lamp's far side.
      const bend =
        body.clear > 0.5
          ? 1 - 0.4 * (1 - Math.min(1, depth[i]! / Math.max(1, body.rim * 0.6))) + 0.5 * Math.max(0, facing)
          : 1;
      const glint =
        body.shine > 0 ? body.shine * ramp(0.62, 0.9, facing + (body.ball ? 0.35 * thick : 0)) : 0;
      rgb.forEach((plane, c) => {
        const inside = plane[at]! * pass * bend + body.colour[c]! * (1 - pass) * lit + glint;
        plane[at] = plane[at]! * (1 - s) + inside * s;
      });
    }
  }
}

const ball = (outline: readonly Spot[]): number => {
  const xs = outline.map((p) => p[0]);
  return Math.max(1, (Math.max(...xs) - Math.min(...xs)) / 2);
};

const domed = (t: number): number => Math.sqrt(Math.max(0, 1 - (1 - Math.min(1, t)) ** 2));

const tall = (d: number, body: Body, scale: number): number =>
  body.ball ? domed(d / scale) * scale * 0.12 : Math.min(1, d / body.rim) * 1.4;
