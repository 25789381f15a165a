import type { Chance } from '../../../demo/drawing/chance.ts';
import { windowAround } from '../../../demo/drawing/coverage.ts';
import type { Spot } from '../../../demo/drawing/outline-measures.ts';
import type { Lamp } from './paint.ts';
import { type Planes, wandering } from './planes.ts';

export interface Thread {
  readonly colour: readonly [number, number, number];
  /** 0 hides the ground, 1 is clear. */
  readonly clear: number;
  readonly halfPx: number;
  /** How unevenly it takes the light along its length: 0 even, 1 fades nearly away in places. */
  readonly fading: number;
}

/** Paints a thread by distance to its middle line: a cylinder that darkens towards its sides and may be clear in the middle. */
export function paintThread(
  planes: Planes,
  line: readonly Spot[],
  thread: Thread,
  lamp: Lamp,
  chance: Chance,
): void {
  const margin = thread.halfPx + 4;
  const cover = windowAround(line, margin);
  const { left, top, width: w, height: h } = cover;
  const distance = new Float32Array(w * h).fill(1e9);
  const side = new Float32Array(w * h);
  const along = new Float32Array(w * h);
  let before = 0;
  for (let i = 1; i < line.length; i++) {
    const [ax, ay] = line[i - 1]!;
    const [bx, by] = line[i]!;
    const length = Math.hypot(bx - ax, by - ay);
    if (length === 0) continue;
    const ux = (bx - ax) / length;
    const uy = (by - ay) / length;
    const x0 = Math.max(0, Math.floor(Math.min(ax, bx) - margin) - left);
    const x1 = Math.min(w - 1, Math.ceil(Math.max(ax, bx) + margin) - left);
    const y0 = Math.max(0, Math.floor(Math.min(ay, by) - margin) - top);
    const y1 = Math.min(h - 1, Math.ceil(Math.max(ay, by) + margin) - top);
    for (let y = y0; y <= y1; y++) {
      for (let x = x0; x <= x1; x++) {
        const dx = x + left + 0.5 - ax;
        const dy = y + top + 0.5 - ay;
        const s = dx * ux + dy * uy;
        const t = Math.min(length, Math.max(0, s));
        // Cut square at both ends, as its outline is.
        const past = i === 1 && s < 0 ? -s : i === line.length - 1 && s > length ? s - length : 0;
        const away = Math.hypot(dx - t * ux, dy - t * uy);
        const d = past > 0 ? Math.max(away, thread.halfPx + past) : away;
        const at = y * w + x;
        if (d < distance[at]!) {
          distance[at] = d;
          along[at] = before + t;
          side[at] = (dx - t * ux) * lamp[0] + (dy - t * uy) * lamp[1];
        }
      }
    }
    before += length;
  }
  const fade = wandering(before / 3.5 + 8, chance);
  const { rgb, width, height } = planes;
  for (let y = 0; y < h; y++) {
    for (let x = 0; x < w; x++) {
      const px = x + left;
      const py = y + top;
      const d = distance[y * w + x]!;
      if (d > margin || px < 0 || py < 0 || px >= width || py >= height) continue;
      const at = py * width + px;
      const i = y * w + x;
      // Narrower than a pixel: the share stays proportional to the width.
      const share = Math.max(0, Math.min(1, thread.halfPx + 0.5 - d, 2 * thread.halfPx));
      const gone = thread.fading * Math.min(1, Math.max(0, 0.5 + 0.55 * fade(along[i]!)));
      const strength = share * (1 - 0.8 * gone);
      const shade = Math.max(0, 1 - Math.abs(d - thread.halfPx - 1.2) / 2.2) * (side[i]! < 0 ? 0.14 : 0.02);
      const u = Math.min(1, d / thread.halfPx);
      const core = Math.sqrt(1 - u * u);
      const lit = 0.75 + 0.35 * core + 0.25 * Math.max(-1, Math.min(1, side[i]! / thread.halfPx));
      const pass = thread.clear * (0.55 + 0.45 * core);
      rgb.forEach((plane, c) => {
        const ground = plane[at]! * (1 - shade * (1 - gone) * (1 - share));
        const inside = ground * pass + thread.colour[c]! * (1 - pass) * Math.max(0.1, lit);
        plane[at] = ground * (1 - strength) + inside * strength;
      });
    }
  }
}
