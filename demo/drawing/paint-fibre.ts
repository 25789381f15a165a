import { type Canvas, darken, moved, overCover, type Rgb } from './canvas.ts';
import type { Chance } from './chance.ts';
import { addPolygon, type Cover, softened, windowAround } from './coverage.ts';
import { bandAround, type Spot } from './outline-measures.ts';
import type { LightFrom } from './paint-solid.ts';

export interface FibreLook {
  readonly albedo: Rgb;
  readonly opacity: number;
  /** Brightness of the light's reflection along its back. */
  readonly sheen: number;
  /** How far out of the plane it rises somewhere along its length: 0 lies flat, 1 fades half away. */
  readonly lift: number;
}

/** A fibre drawn piece by piece along its line: where it rises from the membrane it goes soft, pale, and its shadow moves off. */
export function paintFibre(
  canvas: Canvas,
  line: readonly Spot[],
  halfWidthPx: number,
  look: FibreLook,
  from: LightFrom,
  chance: Chance,
): void {
  const sharp = windowAround(line, 14 + halfWidthPx);
  const same = (): Cover => ({ ...sharp, share: new Float32Array(sharp.share.length) });
  const soft = same();
  const back = same();
  const outline = bandAround(line, () => halfWidthPx);
  const n = line.length;
  const middle = chance.between(0.1, 0.9);
  const spread = chance.between(0.1, 0.25);
  const tooth = chance.between(4, 11);
  for (let i = 0; i + 1 < n; i++) {
    const t = i / (n - 1);
    const rise = look.lift * Math.exp(-(((t - middle) / spread) ** 2));
    const quad = [outline[i]!, outline[i + 1]!, outline[2 * n - 2 - i]!, outline[2 * n - 1 - i]!];
    const fade = 1 - 0.45 * rise;
    addPolygon(sharp, quad, fade * (1 - rise));
    if (rise > 0.03) addPolygon(soft, quad, fade * rise);
  }
  const off = Math.max(0.6, halfWidthPx * 0.35);
  const ridge = line.map(([x, y]): Spot => [x + from.x * off * 0.5, y + from.y * off * 0.5]);
  const crest = bandAround(ridge, (i) => halfWidthPx * 0.3 * (1 + 0.25 * Math.sin(i / tooth)));
  for (let i = 0; i + 1 < n; i++) {
    addPolygon(back, [crest[i]!, crest[i + 1]!, crest[2 * n - 2 - i]!, crest[2 * n - 1 - i]!]);
  }
  const blurred = softened(soft, 2, 2);
  for (let i = 0; i < sharp.share.length; i++) {
    sharp.share[i] = Math.min(1, sharp.share[i]! + blurred.share[i]!);
  }
  const shadow = 0.3 * look.opacity;
  darken(canvas, moved(softened(sharp, 1, 2), -from.x * 2.2, -from.y * 2.2), [shadow, shadow, shadow * 0.95]);
  const { light } = canvas;
  overCover(canvas, sharp, (at, i, share) => {
    const hide = share * look.opacity;
    const glint = look.sheen * back.share[i]! * share;
    for (let c = 0; c < 3; c++) {
      const lit = look.albedo[c]! * (1 + 0.8 * glint) + 0.18 * glint;
      light[at + c] = light[at + c]! * (1 - hide) + hide * lit;
    }
  });
}
