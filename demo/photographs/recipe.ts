import { type Chance, chanceFrom } from '../drawing/chance.ts';
import type { PhotoRecipe } from '../drawing/photograph.ts';
import type { PieceWish } from '../drawing/pieces.ts';
import { type ExampleFilter, SPIKE } from './example-runs.ts';

export const PITCH_MM = 3.1;
/** Disc of the membrane that liquid passed through: it lies within the 4 × 3 squares in view. */
export const DISC_RADIUS_UM = 4500;
export const COLUMNS = 4;
export const ROWS = 3;

/** How one filter of the example is to be drawn. Invented, like everything here. */
export function recipeFor(filter: ExampleFilter, seed: number): PhotoRecipe {
  const chance = chanceFrom(seed, filter.name);
  // One camera and stand for all sessions: the scale is nearly the same, the filter is laid down a little turned.
  const session = chanceFrom(seed, `session ${filter.session}`);
  return {
    name: `${filter.name}.jpg`,
    seed: chance.whole(1, 2 ** 31),
    width: 2400,
    height: 1800,
    umPerPx: 6 * session.between(0.99, 1.01),
    turnDeg: chance.between(-3.5, 3.5),
    distortion: -0.006,
    print: {
      pitchMm: PITCH_MM,
      lineUm: 70,
      ink: [0.62, 0.5, 0.42],
      broken: chance.between(0, 0.08),
      around: [4, 3],
    },
    discUm: DISC_RADIUS_UM,
    white: [0.78, 0.775, 0.75],
    grain: chance.between(0.016, 0.023),
    lighting: {
      slopeX: session.between(-0.14, 0.14),
      slopeY: session.between(-0.1, 0.1),
      vignette: 0.2,
      cloud: 0.03,
      cast: [1, session.between(0.97, 1), session.between(0.92, 1)],
    },
    blurPx: chance.between(0.75, 1.05),
    noise: 0.015,
    pieces: piecesFor(filter, chance.branch('pieces')),
    rings: chance.poisson(0.8),
    scratches: chance.poisson(0.9),
    stains: chance.poisson(0.6),
    clogged: filter.clogged,
  };
}

function piecesFor(filter: ExampleFilter, chance: Chance): PieceWish[] {
  if (filter.clogged) return [];
  const pieces: PieceWish[] = [];
  const added = filter.spiked ? filter.spiked.small + filter.spiked.large : 0;
  if (filter.spiked) {
    for (const size of ['large', 'small'] as const) {
      for (let i = 0; i < filter.spiked[size]; i++) {
        const sizeUm = SPIKE[size].sizeUm * chance.around(1, 0.08);
        pieces.push({ kind: 'fragment', sizeUm, colour: 'orange', touching: i > 0 && chance.yes(0.06) });
      }
    }
  }
  for (let i = 0; i < filter.synthetic - added; i++) pieces.push(syntheticPiece(filter, chance));
  for (let i = 0; i < filter.tissue; i++) {
    pieces.push({ kind: 'tissue', sizeUm: Math.min(520, chance.around(190, 0.45)), colour: 'orange' });
  }
  const lint = chance.poisson(1.2);
  for (let i = 0; i < lint; i++) {
    pieces.push({ kind: 'lint', sizeUm: Math.min(1800, chance.around(700, 0.4)), colour: 'grey' });
  }
  const specks = chance.poisson(2.5);
  for (let i = 0; i < specks; i++)
    pieces.push({ kind: 'speck', sizeUm: chance.between(18, 55), colour: 'black' });
  return pieces;
}

/** A board sheds white and clear shavings; knife, sponge and clothing give the rest. */
function syntheticPiece(filter: ExampleFilter, chance: Chance): PieceWish {
  const board = filter.kind === 'worn-board' ? 0.76 : filter.kind === 'new-board' ? 0.45 : 0;
  if (chance.yes(board)) {
    const sizeUm = Math.min(650, Math.max(85, chance.around(210, 0.5)));
    const roll = chance.next();
    if (roll < 0.55) return { kind: 'fragment', sizeUm, colour: 'white' };
    if (roll < 0.8) return { kind: 'shaving', sizeUm: sizeUm * 1.4, colour: 'white' };
    return {
      kind: chance.yes(0.5) ? 'film' : 'shaving',
      sizeUm: Math.max(180, sizeUm * 1.3),
      colour: 'clear',
    };
  }
  const acts = filter.kind === 'open-dish' || filter.kind === 'procedural-blank';
  if (!acts && chance.yes(0.4)) {
    return { kind: 'fragment', sizeUm: Math.max(70, chance.around(150, 0.4)), colour: filter.handle };
  }
  if (chance.yes(0.75)) {
    const colour = chance.pick(['blue', 'blue', 'black', 'red', 'grey']);
    return { kind: 'fibre', sizeUm: Math.min(2400, Math.max(250, chance.around(800, 0.5))), colour };
  }
  if (chance.yes(0.3)) return { kind: 'foam', sizeUm: chance.between(200, 380), colour: 'yellow' };
  return {
    kind: 'fragment',
    sizeUm: chance.around(140, 0.35),
    colour: chance.pick(['red', 'black', 'blue']),
  };
}
