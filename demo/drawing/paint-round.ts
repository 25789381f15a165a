import { type Canvas, overCover, type Rgb } from './canvas.ts';
import type { Chance } from './chance.ts';
import { addPolygon, softened, windowAround } from './coverage.ts';
import { grainTiles, noiseAt } from './grain.ts';
import { centreOf, feretOf, type Spot } from './outline-measures.ts';
import { castShadow, type LightFrom } from './paint-solid.ts';

/** A bead: shaded as a ball, with a highlight towards the light and light gathered on the far side when it lets light through. */
export function paintBead(
  canvas: Canvas,
  outline: readonly Spot[],
  albedo: Rgb,
  opacity: number,
  from: LightFrom,
): void {
  const body = windowAround(outline, 10);
  addPolygon(body, outline);
  const radius = feretOf(outline).max / 2;
  castShadow(canvas, body, radius * 2, 0.42, from);
  const [cx, cy] = centreOf(outline);
  const { light } = canvas;
  const spot = 0.42;
  const spotSize = Math.max(0.12, 1.1 / radius);
  overCover(canvas, body, (at, _i, share, x, y) => {
    const u = (x + 0.5 - cx) / radius;
    const v = (y + 0.5 - cy) / radius;
    const up = Math.sqrt(Math.max(0, 1 - u * u - v * v));
    const facing = u * from.x * 0.55 + v * from.y * 0.55 + up * 0.83;
    const through = (1 - opacity) * Math.max(0, -(u * from.x + v * from.y)) * 0.55;
    const lit = 0.38 + 0.68 * Math.max(0, facing) + through;
    const d = Math.hypot(u - spot * from.x, v - spot * from.y) / spotSize;
    const glint = 0.95 * Math.exp(-d * d);
    const hide = share * (opacity + (1 - opacity) * 0.75 * (1 - up));
    for (let c = 0; c < 3; c++) {
      light[at + c] = light[at + c]! * (1 - hide) + hide * albedo[c]! * lit + share * glint * 0.8;
    }
  });
}

/** Foam: a lump of bright cells with darker walls. */
export function paintFoam(
  canvas: Canvas,
  outline: readonly Spot[],
  albedo: Rgb,
  cellPx: number,
  from: LightFrom,
  chance: Chance,
): void {
  const body = windowAround(outline, 12);
  addPolygon(body, outline);
  const size = Math.sqrt(body.width * body.height) - 24;
  castShadow(canvas, body, size, 0.4, from);
  const centres: Spot[] = [];
  for (let y = body.top; y < body.top + body.height; y += cellPx) {
    for (let x = body.left; x < body.left + body.width; x += cellPx) {
      centres.push([x + chance.between(0, cellPx), y + chance.between(0, cellPx)]);
    }
  }
  const columns = Math.ceil(body.width / cellPx);
  const height = softened(body, Math.max(2, size * 0.14), 2).share;
  const tiles = grainTiles();
  const { light } = canvas;
  const w = body.width;
  overCover(canvas, body, (at, i, share, x, y) => {
    let first = 1e9;
    let second = 1e9;
    const cc = Math.floor((x - body.left) / cellPx);
    const cr = Math.floor((y - body.top) / cellPx);
    for (let r = cr - 1; r <= cr + 1; r++) {
      for (let c = cc - 1; c <= cc + 1; c++) {
        const centre = c >= 0 && c < columns ? centres[r * columns + c] : undefined;
        if (!centre) continue;
        const d = Math.hypot(x - centre[0], y - centre[1]);
        if (d < first) {
          second = first;
          first = d;
        } else if (d < second) second = d;
      }
    }
    const wall = Math.min(1, (second - first) / (cellPx * 0.3));
    const h = height[i]!;
    const slope =
      ((height[i + 1] ?? h) - (height[i - 1] ?? h)) * from.x +
      ((height[i + w] ?? h) - (height[i - w] ?? h)) * from.y;
    const lit = (0.72 + 0.26 * wall + 0.2 * h) * (1 - 6 * slope) + 0.02 * noiseAt(tiles.fine, x, y);
    for (let c = 0; c < 3; c++)
      light[at + c] = light[at + c]! * (1 - share) + share * albedo[c]! * Math.max(0.1, lit);
  });
}
