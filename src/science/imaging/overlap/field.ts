/** One photograph of a part of a filter, as far as its place among others is concerned. */
import type { GridSquare, Particle, Point } from '../finding.ts';

/** What tells one particle from another, wherever the camera stood. */
export interface Sighting
  extends Pick<Particle, 'centroidPx' | 'areaPx2' | 'feretMaxPx' | 'touchesFrame' | 'lab'> {
  /** Somebody has decided on it: where it is one of several, the decision must not be lost. */
  readonly decided?: boolean;
}

export interface Field {
  readonly widthPx: number;
  readonly heightPx: number;
  /** At the middle of the photograph. */
  readonly umPerPx: number;
  /** Pitch of the print in µm and its squares in this photograph; null without print. */
  readonly print: { readonly pitchUm: number; readonly squares: readonly GridSquare[] } | null;
  readonly sightings: readonly Sighting[];
  /** Where the stage said the photograph's top left corner lies, µm, when that is known. */
  readonly stageUm: Point | null;
}

/**
 * Photograph px → µm along the print's own axes, from the corner of this photograph's square (0, 0). Lens and tilt are
 * taken out. A printed pitch more or less, and nothing else, is unknown between two photographs of one filter that were
 * taken less than 45° apart. Beyond the squares the nearest one is carried on.
 */
export function printUm(field: Field): ((point: Point) => Point) | null {
  const { print } = field;
  if (!print || print.squares.length === 0) return null;
  const middles = print.squares.map(({ cornersPx: c }) => [
    (c[0][0] + c[1][0] + c[2][0] + c[3][0]) / 4,
    (c[0][1] + c[1][1] + c[2][1] + c[3][1]) / 4,
  ]);
  return ([x, y]) => {
    let best = 0;
    let least = Number.POSITIVE_INFINITY;
    for (let i = 0; i < middles.length; i++) {
      const d = (middles[i]![0]! - x) ** 2 + (middles[i]![1]! - y) ** 2;
      if (d < least) {
        least = d;
        best = i;
      }
    }
    const { square, cornersPx } = print.squares[best]!;
    const [u, v] = withinSquare(cornersPx, x, y);
    return [(square[0] + u) * print.pitchUm, (square[1] + v) * print.pitchUm];
  };
}

/** Shares along a square's top and left side at (x, y), by Newton's method on the bilinear map of its corners. */
function withinSquare(corners: GridSquare['cornersPx'], x: number, y: number): Point {
  const [[ax, ay], [bx, by], [cx, cy], [dx, dy]] = corners;
  let u = 0.5;
  let v = 0.5;
  for (let k = 0; k < 20; k++) {
    const px = (1 - v) * ((1 - u) * ax + u * bx) + v * ((1 - u) * dx + u * cx) - x;
    const py = (1 - v) * ((1 - u) * ay + u * by) + v * ((1 - u) * dy + u * cy) - y;
    const ux = (1 - v) * (bx - ax) + v * (cx - dx);
    const uy = (1 - v) * (by - ay) + v * (cy - dy);
    const vx = (1 - u) * (dx - ax) + u * (cx - bx);
    const vy = (1 - u) * (dy - ay) + u * (cy - by);
    const det = ux * vy - uy * vx;
    if (!(Math.abs(det) > 1e-12)) break;
    const du = (px * vy - py * vx) / det;
    const dv = (py * ux - px * uy) / det;
    u -= du;
    v -= dv;
    if (Math.abs(du) + Math.abs(dv) < 1e-9) break;
  }
  return [u, v];
}

/** Could two sightings be one particle? Size within a fifth and colour alike; one cut by its frame may be smaller. */
export function alike(a: Sighting, scaleA: number, b: Sighting, scaleB: number): boolean {
  if (Math.hypot(a.lab[0] - b.lab[0], a.lab[1] - b.lab[1], a.lab[2] - b.lab[2]) > ALIKE_LAB) return false;
  const ratio = (a.feretMaxPx * scaleA) / (b.feretMaxPx * scaleB);
  const low = a.touchesFrame ? 0.05 : 1 / ALIKE_SIZE;
  const high = b.touchesFrame ? 20 : ALIKE_SIZE;
  return ratio >= low && ratio <= high;
}
/** Common practice, no source: what two photographs of one particle may differ by under one light. */
const ALIKE_SIZE = 1.3;
const ALIKE_LAB = 20;
