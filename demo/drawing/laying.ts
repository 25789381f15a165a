import type { Chance } from './chance.ts';
import type { Spot } from './outline-measures.ts';
import type { MadePiece } from './pieces.ts';

/** A piece with its place on the filter, µm. */
export interface LaidPiece {
  readonly piece: MadePiece;
  readonly at: Spot;
  readonly radius: number;
  readonly cluster: number | null;
}

const radiusOf = (form: readonly Spot[]): number => Math.max(...form.map(([x, y]) => Math.hypot(x, y)));

/** Whether a point lies in a polygon (crossing count). */
export function inside(x: number, y: number, outline: readonly Spot[]): boolean {
  let odd = false;
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
    const [ax, ay] = outline[i]!;
    const [bx, by] = outline[j]!;
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) odd = !odd;
  }
  return odd;
}

/** Whether two placed forms come nearer than `gap` (judged at their corners, which lie close together). */
function near(a: MadePiece, at: Spot, b: LaidPiece, gap: number): boolean {
  const dx = at[0] - b.at[0];
  const dy = at[1] - b.at[1];
  if (Math.hypot(dx, dy) > radiusOf(a.outline) + b.radius + gap) return false;
  const theirs = b.piece.outline;
  for (const [x, y] of a.outline) {
    if (inside(x + dx, y + dy, theirs)) return true;
    if (gap > 0) for (const [u, v] of theirs) if (Math.hypot(x + dx - u, y + dy - v) < gap) return true;
  }
  return theirs.some(([u, v]) => inside(u - dx, v - dy, a.outline));
}

/**
 * Lays pieces on a field `halfWidth` × `halfHeight` µm around the middle, apart by `gap`, except those that want to
 * touch the one before; within the disc where there is one. A piece that finds no free place after many tries is left out.
 */
export function layDown(
  pieces: readonly MadePiece[],
  field: { halfWidth: number; halfHeight: number; turnRad: number; discRadius: number | null },
  gap: number,
  chance: Chance,
): LaidPiece[] {
  const laid: LaidPiece[] = [];
  let clusters = 0;
  const c = Math.cos(-field.turnRad);
  const s = Math.sin(-field.turnRad);
  for (const piece of pieces) {
    const radius = radiusOf(piece.outline);
    const before = laid[laid.length - 1];
    if (piece.wish.touching && before) {
      const at = againstIt(piece, before, laid, gap, chance);
      if (at) {
        const cluster = before.cluster ?? ++clusters;
        laid[laid.length - 1] = { ...before, cluster };
        laid.push({ piece, at, radius, cluster });
      }
      continue;
    }
    for (let attempt = 0; attempt < 80; attempt++) {
      const u = chance.between(-1, 1) * (field.halfWidth - Math.min(radius * 0.7, field.halfWidth / 2));
      const v = chance.between(-1, 1) * (field.halfHeight - Math.min(radius * 0.7, field.halfHeight / 2));
      const at: Spot = [c * u - s * v, s * u + c * v];
      if (field.discRadius !== null && Math.hypot(u, v) > field.discRadius - radius * 0.6) continue;
      if (laid.every((other) => !near(piece, at, other, gap))) {
        laid.push({ piece, at, radius, cluster: null });
        break;
      }
    }
  }
  return laid;
}

/** Slides a piece towards another from outside until they just touch. */
function againstIt(
  piece: MadePiece,
  other: LaidPiece,
  laid: readonly LaidPiece[],
  gap: number,
  chance: Chance,
): Spot | null {
  for (let attempt = 0; attempt < 12; attempt++) {
    const angle = chance.between(0, 2 * Math.PI);
    const dx = Math.cos(angle);
    const dy = Math.sin(angle);
    let far = radiusOf(piece.outline) + other.radius + 5;
    let close = 0;
    for (let i = 0; i < 18; i++) {
      const middle = (far + close) / 2;
      if (near(piece, [other.at[0] + dx * middle, other.at[1] + dy * middle], other, 0)) close = middle;
      else far = middle;
    }
    const at: Spot = [other.at[0] + dx * close, other.at[1] + dy * close];
    if (laid.every((third) => third === other || third.cluster === null || !near(piece, at, third, gap)))
      return at;
  }
  return null;
}
