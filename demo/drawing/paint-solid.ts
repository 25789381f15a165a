import { type Canvas, darken, moved, overCover, type Rgb } from './canvas.ts';
import type { Chance } from './chance.ts';
import { addPolygon, type Cover, softened, windowAround } from './coverage.ts';
import { grainTiles, noiseAt } from './grain.ts';
import type { Spot } from './outline-measures.ts';

/** Direction that the light comes from in the photograph (unit vector), and how hard it is. */
export interface LightFrom {
  readonly x: number;
  readonly y: number;
  readonly hardness: number;
}

/** How a solid piece looks. All shares are 0 to 1. */
export interface SolidLook {
  readonly albedo: Rgb;
  /** Share of the ground that the piece hides at its thickest. */
  readonly opacity: number;
  /** How strongly slopes at the rim and facets shade it. */
  readonly relief: number;
  /** Grain of its surface. */
  readonly rough: number;
  /** How far up the light shows: a spot of gloss. */
  readonly gloss: number;
  readonly shadow: number;
  /** Rim width as a share of the piece's size. */
  readonly bevel: number;
}

/** Paints fragments, films and soft tissue: a flat body with sloping rim, facets, grain, gloss and its own soft shadow. */
export function paintSolid(
  canvas: Canvas,
  outline: readonly Spot[],
  look: SolidLook,
  from: LightFrom,
  chance: Chance,
): void {
  const margin = 10;
  const body = windowAround(outline, margin);
  addPolygon(body, outline);
  const size = Math.sqrt(body.width * body.height) - 2 * margin;
  castShadow(canvas, body, size, look.shadow, from);
  const rim = Math.max(1, Math.round(size * look.bevel));
  const height = softened(body, rim, 2).share;
  const facets = facetsFor(body, size, chance);
  const tiles = grainTiles();
  const ox = chance.whole(0, 400);
  const oy = chance.whole(0, 400);
  const w = body.width;
  const steep = look.relief * rim * 1.1 * from.hardness;
  const { light } = canvas;
  const [r, g, b] = look.albedo;
  overCover(canvas, body, (at, i, share, x, y) => {
    const h = height[i]!;
    const sx = (height[i + 1] ?? h) - (height[i - 1] ?? h);
    const sy = (height[i + w] ?? h) - (height[i - w] ?? h);
    // Where the height falls towards the light, the slope faces it: negative product, brighter.
    let shade = 1 - steep * (sx * from.x + sy * from.y);
    for (const f of facets) {
      const side = (x - f.x) * f.nx + (y - f.y) * f.ny;
      shade += look.relief * f.tone * Math.min(1, Math.max(-1, side / 1.5));
    }
    shade +=
      look.rough * (0.6 * noiseAt(tiles.fine, x + ox, y + oy) + 0.8 * noiseAt(tiles.middle, x + oy, y + ox));
    const hide = share * look.opacity * Math.min(1, 0.55 + 0.6 * h);
    const glint = look.gloss * Math.max(0, shade - 1.22) * 1.6;
    const lit = Math.max(0.05, shade);
    light[at] = light[at]! * (1 - hide) + hide * (r * lit + glint);
    light[at + 1] = light[at + 1]! * (1 - hide) + hide * (g * lit + glint);
    light[at + 2] = light[at + 2]! * (1 - hide) + hide * (b * lit + glint);
  });
}

/** A shadow beside the piece and a darker seam where it rests. */
export function castShadow(
  canvas: Canvas,
  body: Cover,
  size: number,
  strength: number,
  from: LightFrom,
): void {
  if (strength <= 0) return;
  const reach = Math.min(9, 1 + size * 0.07);
  const wide = moved(softened(body, reach * 0.7, 2), -from.x * reach, -from.y * reach);
  darken(canvas, wide, [strength, strength * 0.97, strength * 0.93]);
  const seam = softened(body, 1, 1);
  darken(canvas, seam, [strength * 0.35, strength * 0.35, strength * 0.33]);
}

interface Facet {
  readonly x: number;
  readonly y: number;
  readonly nx: number;
  readonly ny: number;
  readonly tone: number;
}

function facetsFor(body: Cover, size: number, chance: Chance): Facet[] {
  const facets: Facet[] = [];
  const n = chance.whole(2, 4);
  for (let i = 0; i < n; i++) {
    const angle = chance.between(0, 2 * Math.PI);
    facets.push({
      x: body.left + body.width / 2 + size * chance.between(-0.25, 0.25),
      y: body.top + body.height / 2 + size * chance.between(-0.25, 0.25),
      nx: Math.cos(angle),
      ny: Math.sin(angle),
      tone: chance.between(0.04, 0.16),
    });
  }
  return facets;
}

/** A clear piece shows by its rim alone: dark on one side, bright on the other, and a faint lens effect within. */
export function paintClear(
  canvas: Canvas,
  outline: readonly Spot[],
  strength: number,
  from: LightFrom,
  chance: Chance,
): void {
  const body = windowAround(outline, 8);
  addPolygon(body, outline);
  const size = Math.sqrt(body.width * body.height) - 16;
  castShadow(canvas, body, size, strength * 0.28, from);
  const inner = softened(body, 1, 2).share;
  const wide = softened(body, Math.max(2, size * 0.06), 2).share;
  const w = body.width;
  const tint = chance.between(0.96, 1.01);
  const { light } = canvas;
  overCover(canvas, body, (at, i, share) => {
    const h = inner[i]!;
    const slope =
      ((wide[i + 1] ?? h) - (wide[i - 1] ?? h)) * from.x + ((wide[i + w] ?? h) - (wide[i - w] ?? h)) * from.y;
    const rim = 4 * h * (1 - h);
    const change = 1 + share * (strength * (-0.38 * rim - 2.4 * slope) + (tint - 1));
    const glint = Math.max(0, -slope * strength - 0.12) * 0.9 * share;
    for (let c = 0; c < 3; c++) light[at + c] = light[at + c]! * Math.max(0.25, change) + glint;
  });
}
