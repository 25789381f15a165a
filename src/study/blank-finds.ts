/** What of the finds on a control's photograph is no particle, by what people decided there. */
import { insideOutline, type Particle } from '../science/imaging/index.ts';
import type { ParticleId, ParticleRecord } from './records/found.ts';
import { samePieces } from './same-pieces.ts';

export interface BlankFinds {
  readonly falseFinds: number;
  readonly undecided: number;
}

/**
 * A find is real where it is, or lies on, a piece that was kept or that a test names; false where it was dropped; undecided
 * otherwise. `decided` are the pieces of the finding that people decided on.
 */
export function blankFinds(
  found: readonly Particle[],
  decided: readonly ParticleRecord[],
  tested: ReadonlySet<ParticleId>,
): BlankFinds {
  const pieces = decided.filter((piece) => piece.standing !== 'replaced');
  const isReal = (piece: ParticleRecord): boolean => piece.standing === 'kept' || tested.has(piece.id);
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
