/**
 * Marks as two invented scorers would have made them: from the truth beside each drawn photograph, with the slips of
 * a careful person (seeded). What lies nearest under an outline decides; what nothing lies under is dropped.
 */
import type { Decision, ParticleRecord } from '../../src/study/index.ts';
import { chanceFrom } from '../drawing/chance.ts';
import type { PhotoTruth, TruePiece } from '../drawing/truth.ts';

/** How often a careful person slips; invented. */
const SLIPS = 0.02;

export interface InventedMark {
  readonly decision: Decision;
  readonly particles: readonly ParticleRecord['id'][];
}

/** A found outline belongs to the nearest true piece whose own size, and a little more, reaches it. */
export function pieceUnder(particle: ParticleRecord, truth: PhotoTruth): TruePiece | null {
  const [x, y] = particle.centroidPx;
  let nearest: TruePiece | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const piece of truth.pieces) {
    const far = Math.hypot(piece.centroid_px[0] - x, piece.centroid_px[1] - y);
    if (far < least && far < 6 + piece.feret_max_px / 2) {
      least = far;
      nearest = piece;
    }
  }
  return nearest;
}

/** All marks on one photo: keeps, drops, and colours put right. */
export function inventedMarks(
  particles: readonly ParticleRecord[],
  truth: PhotoTruth,
  scorer: string,
): readonly InventedMark[] {
  const chance = chanceFrom(truth.seed, `scorer ${scorer}`);
  const keep: ParticleRecord['id'][] = [];
  const drop: ParticleRecord['id'][] = [];
  const colours: InventedMark[] = [];
  for (const particle of particles) {
    const piece = pieceUnder(particle, truth);
    const synthetic = piece?.origin === 'synthetic';
    const decided = chance.yes(SLIPS) ? !synthetic : synthetic;
    (decided ? keep : drop).push(particle.id);
    if (decided && piece && piece.colour !== particle.colourNow && isOrange(piece, particle)) {
      colours.push({
        decision: { kind: 'colour', colour: piece.colour as never },
        particles: [particle.id],
      });
    }
  }
  const marks: InventedMark[] = [...colours];
  if (keep.length > 0) marks.unshift({ decision: { kind: 'keep' }, particles: keep });
  if (drop.length > 0) marks.unshift({ decision: { kind: 'drop' }, particles: drop });
  return marks;
}

/** Known pieces are orange, and a scorer who looks for orange puts the colour right where the program called it otherwise. */
const isOrange = (piece: TruePiece, particle: ParticleRecord): boolean =>
  (piece.colour === 'orange') !== (particle.colourNow === 'orange');
