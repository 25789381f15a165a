/** All that the finder would consider on a photograph, before it asks how sure it is, each with whether it is real. */
import { FITTED, type SignName, type Signs, signsOf } from '../../src/science/imaging/chance-real.ts';
import { piecesOf, wholePieces } from '../../src/science/imaging/find.ts';
import type { Picture } from '../../src/science/imaging/index.ts';
import { particleFrom } from '../../src/science/imaging/particle.ts';
import type { Piece } from '../../src/science/imaging/piece.ts';
import { type Prepared, prepare } from '../../src/science/imaging/prepare.ts';
import { groupRuns } from '../../src/science/imaging/regions.ts';
import { searchTile, TILE } from '../../src/science/imaging/significance.ts';
import { survey } from '../../src/science/imaging/survey.ts';
import { mm, umPerPx } from '../../src/units/index.ts';
import type { TestTruth } from './drawing/compose.ts';
import { judgePhoto } from './judge-photo.ts';

export interface Candidate {
  readonly photo: string;
  readonly signs: Signs;
  /** Matched with a drawn piece, large and plain enough to be asked for or not. */
  readonly real: boolean;
  /** Parts, stains, rings …; null for real ones. */
  readonly kind: string | null;
}

export const SIGN_NAMES = Object.keys(FITTED.weights) as SignName[];

/** What a photograph was made ready with, and its pieces before any is dropped or joined. */
export function preparedPieces(
  picture: Picture,
  truth: TestTruth,
): { readonly prepared: Prepared; readonly pieces: readonly Piece[] } {
  const prepared = prepare(survey(picture), picture, {
    scale: { from: 'printed-grid', pitch: mm(truth.scale.pitch_mm ?? 3.1) },
    smallest: null,
    falseFindsPerBlank: 0.5,
  });
  const { membrane } = prepared;
  if (!membrane) return { prepared, pieces: [] };
  const rows = { picture, top: 0 };
  const group = groupRuns();
  const pieces: Piece[] = [];
  for (let y = 0; y < picture.height; y += TILE) {
    const runs = [];
    for (let x = 0; x < picture.width; x += TILE)
      runs.push(searchTile(rows, membrane, x, y, prepared.thresholds));
    pieces.push(...piecesOf(group.add(runs, y + TILE), rows, prepared));
  }
  pieces.push(...piecesOf(group.finish(), rows, prepared));
  return { prepared, pieces };
}

export function candidatesOf(picture: Picture, truth: TestTruth): Candidate[] {
  const found = preparedPieces(picture, truth);
  const { membrane, scale, floorPx } = found.prepared;
  if (!membrane) return [];
  const prepared = { ...found.prepared, thresholds: { ...found.prepared.thresholds, piece: 0 } };
  const pairs = wholePieces(found.pieces, prepared).flatMap((piece) => {
    const particle = particleFrom(piece, membrane, scale && umPerPx(scale.umPerPx));
    return particle && particle.feretMaxPx >= floorPx ? [{ piece, particle }] : [];
  });
  const particles = pairs.map((p) => p.particle);
  const judged = judgePhoto(truth, { particles, floorPx, scale, refusal: null }, null);
  const wrong = new Map(judged.falseFinds.map((f) => [f.particle, f.kind]));
  return pairs.map(({ piece, particle }) => ({
    photo: truth.photo.name,
    signs: signsOf(piece),
    real: !wrong.has(particle),
    kind: wrong.get(particle) ?? null,
  }));
}
