/** Pieces of known size and form, to be drawn into a laboratory's own control photographs. */
import { type Chance, drawNormal } from '../../maths/index.ts';
import type { Point } from '../finding.ts';

export const DRAWN_SHAPES = ['fragment', 'fibre', 'film', 'bead'] as const;
export type DrawnShape = (typeof DRAWN_SHAPES)[number];

/** A piece about its own middle, px. */
export interface KnownPiece {
  readonly shape: DrawnShape;
  /** Maximum Feret diameter of what is drawn. */
  readonly feretPx: number;
  /** Closed outline (fragment, film, bead), or the middle line of a fibre. */
  readonly line: readonly Point[];
  /** Width of a fibre; 0 for others. */
  readonly widthPx: number;
}

/** Largest distance between any two points. */
export function widest(points: readonly Point[]): number {
  let most = 0;
  for (let i = 0; i < points.length; i++) {
    for (let j = i + 1; j < points.length; j++) {
      most = Math.max(most, Math.hypot(points[i]![0] - points[j]![0], points[i]![1] - points[j]![1]));
    }
  }
  return most;
}

const CORNERS = 48;

/** A rounded, uneven outline: a circle with four seeded waves, then flattened by up to a half. */
function uneven(chance: Chance, roughness: number): Point[] {
  const waves = [2, 3, 4, 5].map((n) => ({
    n,
    a: (roughness * drawNormal(chance)) / n,
    p: 2 * Math.PI * chance.uniform(),
  }));
  const flat = 0.5 + 0.5 * chance.uniform();
  const turn = 2 * Math.PI * chance.uniform();
  return Array.from({ length: CORNERS }, (_, i) => {
    const t = (2 * Math.PI * i) / CORNERS;
    let r = 1;
    for (const w of waves) r += w.a * Math.cos(w.n * t + w.p);
    r = Math.max(0.35, r);
    const [x, y] = [r * Math.cos(t), flat * r * Math.sin(t)];
    return [x * Math.cos(turn) - y * Math.sin(turn), x * Math.sin(turn) + y * Math.cos(turn)] as const;
  });
}

/** A gently curling line of unit length. */
function curl(chance: Chance): Point[] {
  const n = 40;
  let angle = 2 * Math.PI * chance.uniform();
  const bend = (1.2 * drawNormal(chance)) / n;
  const change = (0.05 * drawNormal(chance)) / n;
  let [x, y] = [0, 0];
  const points: [number, number][] = [[0, 0]];
  for (let i = 0; i < n; i++) {
    x += Math.cos(angle) / n;
    y += Math.sin(angle) / n;
    angle += bend + change * i;
    points.push([x, y]);
  }
  return points;
}

function centred(points: readonly Point[], scale: number): Point[] {
  const xs = points.map((p) => p[0]);
  const ys = points.map((p) => p[1]);
  const cx = (Math.min(...xs) + Math.max(...xs)) / 2;
  const cy = (Math.min(...ys) + Math.max(...ys)) / 2;
  return points.map(([x, y]) => [(x - cx) * scale, (y - cy) * scale] as const);
}

/** A piece whose maximum Feret diameter is `feretPx`; `fibreWidthPx` is the width of a fibre and within its Feret. */
export function knownPiece(
  shape: DrawnShape,
  feretPx: number,
  fibreWidthPx: number,
  chance: Chance,
): KnownPiece {
  if (!(feretPx > 0))
    throw new RangeError(`size of a drawn piece in px: above 0 is needed, given ${feretPx}`);
  if (shape === 'fibre') {
    const line = curl(chance);
    const widthPx = Math.min(fibreWidthPx, 0.5 * feretPx);
    return { shape, feretPx, line: centred(line, (feretPx - widthPx) / widest(line)), widthPx };
  }
  const line =
    shape === 'bead'
      ? Array.from({ length: CORNERS }, (_, i): Point => {
          const t = (2 * Math.PI * i) / CORNERS;
          return [Math.cos(t), Math.sin(t)];
        })
      : uneven(chance, shape === 'film' ? 0.22 : 0.16);
  return { shape, feretPx, line: centred(line, feretPx / widest(line)), widthPx: 0 };
}
