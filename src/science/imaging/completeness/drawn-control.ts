/** A control photograph with known pieces drawn in, and where they lie. */
import { type Chance, drawBelow } from '../../maths/index.ts';
import type { Particle, Picture, Point } from '../finding.ts';
import { type FilterEdge, insideFilter } from '../scale/edge.ts';
import { type Drawn, lookOf } from './design.ts';
import { type KnownPiece, knownPiece } from './known-piece.ts';
import { stampPiece } from './stamp-piece.ts';

export interface DrawnTruth extends Drawn {
  readonly centrePx: Point;
  readonly feretPx: number;
}

export interface DrawnControl {
  readonly picture: Picture;
  readonly truth: readonly DrawnTruth[];
  /** Pieces that found no free place here. */
  readonly left: readonly Drawn[];
}

export interface Ground {
  readonly picture: Picture;
  readonly umPerPx: number;
  readonly edge: FilterEdge | null;
  /** What lies there already; drawn pieces keep away from it. */
  readonly particles: readonly Particle[];
  readonly blurPx: number;
  readonly fibreWidthUm: number;
}

const GAP = 10;
const ATTEMPTS = 60;

/** Mean place of what is drawn: of a fibre's line, or of an outline's area. */
function middleOf(piece: KnownPiece): Point {
  if (piece.shape === 'fibre') {
    const n = piece.line.length;
    return [piece.line.reduce((s, p) => s + p[0], 0) / n, piece.line.reduce((s, p) => s + p[1], 0) / n];
  }
  let area = 0;
  let [cx, cy] = [0, 0];
  piece.line.forEach(([x0, y0], i) => {
    const [x1, y1] = piece.line[(i + 1) % piece.line.length]!;
    const cross = x0 * y1 - x1 * y0;
    area += cross / 2;
    cx += ((x0 + x1) * cross) / 6;
    cy += ((y0 + y1) * cross) / 6;
  });
  return area === 0 ? [0, 0] : [cx / area, cy / area];
}

function copyOf(picture: Picture): Picture {
  return { ...picture, data: picture.data.slice() };
}

/** Draws as many of `wanted` as find a free place, at most `most`; the given picture is not changed. */
export function drawInto(
  ground: Ground,
  wanted: readonly Drawn[],
  most: number,
  chance: Chance,
): DrawnControl {
  const picture = copyOf(ground.picture);
  const taken: Taken[] = [];
  const truth: DrawnTruth[] = [];
  const left: Drawn[] = [];
  for (const drawn of wanted) {
    if (truth.length >= most) {
      left.push(drawn);
      continue;
    }
    const feretPx = drawn.sizeUm / ground.umPerPx;
    const piece = knownPiece(drawn.shape, feretPx, ground.fibreWidthUm / ground.umPerPx, chance);
    const reach = feretPx / 2;
    const margin = reach + 3 * ground.blurPx + 3;
    const at = freePlace(ground, margin, reach, taken, chance);
    if (!at) {
      left.push(drawn);
      continue;
    }
    stampPiece(picture, piece, at, lookOf(drawn, chance), ground.blurPx, chance);
    taken.push({ at, reach });
    const [mx, my] = middleOf(piece);
    truth.push({ ...drawn, centrePx: [at[0] + mx, at[1] + my], feretPx });
  }
  return { picture, truth, left };
}

interface Taken {
  readonly at: Point;
  readonly reach: number;
}

/** Whether a particle that lies there already comes within `reach` of a place, by its outline. */
function comesNear(particle: Particle, x: number, y: number, reach: number): boolean {
  const away = Math.hypot(particle.centroidPx[0] - x, particle.centroidPx[1] - y);
  if (away > particle.feretMaxPx + reach) return false;
  return away < reach || particle.outlinePx.some((p) => Math.hypot(p[0] - x, p[1] - y) < reach);
}

function freePlace(
  ground: Ground,
  margin: number,
  reach: number,
  taken: readonly Taken[],
  chance: Chance,
): Point | null {
  const { width, height } = ground.picture;
  const { edge } = ground;
  if (2 * margin >= Math.min(width, height)) return null;
  for (let attempt = 0; attempt < ATTEMPTS; attempt++) {
    const x = margin + (width - 2 * margin) * chance.uniform();
    const y = margin + (height - 2 * margin) * chance.uniform();
    if (edge) {
      let inside = true;
      for (let k = 0; k < 8 && inside; k++) {
        inside = insideFilter(edge, x + margin * Math.cos(k * 0.785), y + margin * Math.sin(k * 0.785));
      }
      if (!inside) continue;
    }
    if (!taken.every((t) => Math.hypot(t.at[0] - x, t.at[1] - y) > t.reach + reach + GAP)) continue;
    if (ground.particles.every((p) => !comesNear(p, x, y, reach + GAP))) return [x, y];
  }
  return null;
}

/**
 * Which drawn pieces were found: a particle whose centroid lies near and whose Feret diameter is of the same order
 * (half to double); each particle answers for one piece, the nearest pairs first. Project choice.
 */
export function foundOf(truth: readonly DrawnTruth[], particles: readonly Particle[]): boolean[] {
  const pairs: { t: number; p: number; d: number }[] = [];
  truth.forEach((t, i) => {
    particles.forEach((p, j) => {
      const d = Math.hypot(p.centroidPx[0] - t.centrePx[0], p.centroidPx[1] - t.centrePx[1]);
      if (d > Math.max(3, 0.35 * t.feretPx)) return;
      const ratio = p.feretMaxPx / t.feretPx;
      if (ratio < 0.5 || ratio > Math.max(2, 1 + 4 / t.feretPx)) return;
      pairs.push({ t: i, p: j, d });
    });
  });
  pairs.sort((a, b) => a.d - b.d);
  const found = truth.map(() => false);
  const used = new Set<number>();
  for (const { t, p } of pairs) {
    if (found[t] || used.has(p)) continue;
    found[t] = true;
    used.add(p);
  }
  return found;
}

/** A seed for each photograph and round, from the one seed of the design. */
export const nextSeed = (chance: Chance): number => drawBelow(chance, 0x7fffffff);
