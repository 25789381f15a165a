/** What of the finds on a control's photograph is no particle, by what people decided there. */
import { insideOutline, type Particle } from '../science/imaging/index.ts';
import type { ParticleId, ParticleRecord } from './records/found.ts';
import { samePieces } from './same-pieces.ts';

/**
 * What dropped pieces of a control were: print, grain, stain or light, or real things that do not count, such as dust and
 * food. A mark does not say which, so whoever measures does.
 */
export const DROPPED_ARE = ['false-finds', 'real-things'] as const;
export type DroppedAre = (typeof DROPPED_ARE)[number];

export interface BlankFinds {
  readonly falseFinds: number;
  readonly undecided: number;
}

/**
 * A find is real where it is, or lies on, a piece that was kept or that a test names; what was dropped is what it is said to
 * be; the rest is undecided. `decided` are the pieces of the finding that people decided on.
 */
export function blankFinds(
  found: readonly Particle[],
  decided: readonly ParticleRecord[],
  tested: ReadonlySet<ParticleId>,
  droppedAre: DroppedAre,
): BlankFinds {
  const pieces = decided.filter((piece) => piece.standing !== 'replaced');
  const isReal = ({ id, standing }: ParticleRecord): boolean =>
    standing === 'kept' || tested.has(id) || (standing === 'dropped' && droppedAre === 'real-things');
  const real = pieces.filter(isReal);
  const same = new Map([...samePieces(pieces, found)].map(([was, is]) => [is, was]));
  let [falseFinds, undecided] = [0, 0];
  for (const find of found) {
    const piece = same.get(find);
    if (piece && isReal(piece)) continue;
    if (piece?.standing === 'dropped') falseFinds++;
    else if (!real.some(({ outlinePx }) => insideOutline(outlinePx, ...find.centroidPx))) undecided++;
  }
  return { falseFinds, undecided };
}
