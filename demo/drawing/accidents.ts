import { type Canvas, darken, overCover, type Rgb } from './canvas.ts';
import type { Chance } from './chance.ts';
import { addPolygon, softened, windowAround } from './coverage.ts';
import { grainTiles, noiseAt } from './grain.ts';
import { bandAround, type Spot } from './outline-measures.ts';
import type { Decoy } from './truth.ts';

/** The rim that a dried droplet leaves: thin, uneven, a little brown, open in places. */
export function dropletRing(canvas: Canvas, centre: Spot, radius: number, chance: Chance): Decoy {
  const wobble = [2, 3, 5].map((n) => ({ n, a: chance.normal() * 0.04, p: chance.between(0, 6.28) }));
  const at = (angle: number, grow: number): Spot => {
    const r = radius * wobble.reduce((s, w) => s + w.a * Math.cos(w.n * angle + w.p), 1) + grow;
    return [centre[0] + r * Math.cos(angle), centre[1] + r * Math.sin(angle)];
  };
  const ring = windowAround(
    [0, 1, 2, 3, 4, 5, 6, 7].map((i) => at((i * Math.PI) / 4, radius * 0.2)),
    20,
  );
  const inside = { ...ring, share: new Float32Array(ring.share.length) };
  const open = chance.between(0, 6.28);
  const steps = 90;
  for (let i = 0; i < steps; i++) {
    const a = (2 * Math.PI * i) / steps;
    const b = (2 * Math.PI * (i + 1)) / steps;
    const weight = 0.35 + 0.65 * (0.5 + 0.5 * Math.cos(a - open)) ** 1.5;
    const half = 1.4 + 1.4 * weight;
    addPolygon(ring, [at(a, -half), at(b, -half), at(b, half), at(a, half)], weight);
  }
  addPolygon(
    inside,
    Array.from({ length: 60 }, (_, i) => at((2 * Math.PI * i) / 60, 0)),
  );
  const depth = chance.between(0.03, 0.08);
  darken(canvas, softened(ring, 2, 2), [depth, depth * 1.25, depth * 1.7]);
  darken(canvas, softened(inside, 4, 2), [0.006, 0.009, 0.014]);
  return { kind: 'droplet-ring', centroid_px: centre, radius_px: radius };
}

/** A hairline left by tweezers: a bright and a dark side, no body. */
export function scratch(canvas: Canvas, start: Spot, lengthPx: number, chance: Chance): Decoy {
  const heading = chance.between(0, 6.28);
  const bend = chance.normal() * 0.15;
  const line: Spot[] = [];
  for (let i = 0; i <= 24; i++) {
    const t = (i / 24) * lengthPx;
    const turn = heading + (bend * i) / 24;
    line.push([start[0] + t * Math.cos(turn), start[1] + t * Math.sin(turn)]);
  }
  const dark = windowAround(line, 6);
  addPolygon(
    dark,
    bandAround(line, (i) => 0.75 * Math.sin(((i + 0.5) / 25) * Math.PI) + 0.15),
  );
  const pale = { ...dark, left: dark.left + 1, top: dark.top + 1 };
  const depth = chance.between(0.035, 0.07);
  darken(canvas, softened(dark, 1, 1), [depth, depth, depth]);
  darken(canvas, softened(pale, 1, 1), [-depth * 0.8, -depth * 0.8, -depth * 0.8]);
  return { kind: 'scratch', centroid_px: line[12]!, radius_px: lengthPx / 2 };
}

/** A pale stain without an edge. */
export function stain(canvas: Canvas, centre: Spot, radius: number, colour: Rgb, chance: Chance): Decoy {
  const outline = Array.from({ length: 24 }, (_, i): Spot => {
    const angle = (2 * Math.PI * i) / 24;
    const r = radius * chance.between(0.55, 1);
    return [centre[0] + r * Math.cos(angle), centre[1] + r * Math.sin(angle)];
  });
  const patch = windowAround(outline, radius * 0.9);
  addPolygon(patch, outline);
  darken(canvas, softened(patch, radius * 0.3, 3), colour);
  return { kind: 'stain', centroid_px: centre, radius_px: radius * 1.3 };
}

/** Where liquid passed, the membrane keeps a faint tint that ends softly. */
export function tintDisc(canvas: Canvas, radius: number, colour: Rgb, chance: Chance): void {
  const { width, height, light } = canvas;
  const phase = chance.between(0, 6.28);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const dx = x - width / 2;
      const dy = y - height / 2;
      const d = Math.sqrt(dx * dx + dy * dy) + 14 * Math.sin((3 * dx + 2 * dy) / radius + phase);
      const share = Math.min(1, Math.max(0, (radius * 1.03 - d) / (radius * 0.12)));
      if (share === 0) continue;
      const at = (y * width + x) * 3;
      light[at] = light[at]! * (1 - colour[0] * share);
      light[at + 1] = light[at + 1]! * (1 - colour[1] * share);
      light[at + 2] = light[at + 2]! * (1 - colour[2] * share);
    }
  }
}

/** A filter blocked by pulp: a felted crust of carrot over membrane and print, thinner here and there, with cracks. */
export function matOver(canvas: Canvas, radius: number | null, chance: Chance): void {
  const tiles = grainTiles();
  const share = new Float32Array(canvas.width * canvas.height).fill(1);
  const whole = { left: 0, top: 0, width: canvas.width, height: canvas.height, share };
  const offset = [0, 1, 2, 3, 4, 5].map(() => chance.whole(0, 600));
  const { light } = canvas;
  const orange: Rgb = [0.5, 0.2, 0.045];
  const tan: Rgb = [0.5, 0.31, 0.12];
  overCover(canvas, whole, (at, _i, _share, x, y) => {
    // Each octave is read at its own stretch, so that clods, shreds and hairs all show.
    const clod = noiseAt(tiles.coarse, (x >> 2) + offset[0]!, (y >> 2) + offset[1]!);
    const lump = noiseAt(tiles.coarse, x + offset[2]!, y + offset[3]!);
    const shred = noiseAt(tiles.middle, x + offset[4]!, y + offset[5]!);
    const hair = noiseAt(tiles.felt, (x >> 1) + offset[1]!, (y >> 1) + offset[4]!);
    const fine = noiseAt(tiles.fine, x + offset[3]!, y + offset[0]!);
    const thick = 0.95 + 0.06 * clod + 0.07 * lump + 0.04 * shred + 0.03 * hair;
    const far = radius ? Math.hypot(x - canvas.width / 2, y - canvas.height / 2) + 9 * lump + 5 * hair : 0;
    const within = radius ? Math.min(1, Math.max(0, (radius - far) / (radius * 0.04))) : 1;
    if (within === 0) return;
    const hide = within * Math.min(0.99, Math.max(0.7, thick));
    const mix = Math.min(1, Math.max(0, 0.5 + 0.35 * lump + 0.2 * clod + 0.12 * hair));
    const lit = Math.max(0.25, 1 + 0.13 * lump + 0.12 * shred + 0.1 * hair + 0.06 * fine);
    for (let c = 0; c < 3; c++) {
      light[at + c] = light[at + c]! * (1 - hide) + hide * lit * (orange[c]! * mix + tan[c]! * (1 - mix));
    }
  });
}
