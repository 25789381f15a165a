/**
 * The measuring sets: 24 ordinary, 12 hard, 12 for the scale, 6 empty. Three families of seeds: `tuned` may be looked
 * at while a method is being made; `fitting`, twice as many, is what weights are fitted to; `held-out` is for the figures
 * that are told to others.
 */
import { type Chance, chanceFrom } from '../../../demo/drawing/chance.ts';
import type { TestRecipe } from './compose.ts';
import type { ThingWish } from './things.ts';

export const SETS = ['ordinary', 'hard', 'scale', 'blank'] as const;
export type SetName = (typeof SETS)[number];
export const FAMILIES = ['tuned', 'fitting', 'held-out'] as const;
export type Family = (typeof FAMILIES)[number];

const SIZE: Record<SetName, number> = { ordinary: 24, hard: 12, scale: 12, blank: 6 };
const START: Record<Family, number> = { tuned: 1_000, fitting: 20_000, 'held-out': 90_000 };

export function recipesOf(set: SetName, family: Family): TestRecipe[] {
  const count = SIZE[set] * (family === 'fitting' ? 2 : 1);
  return Array.from({ length: count }, (_, i) => recipeOf(set, family, i));
}

function recipeOf(set: SetName, family: Family, index: number): TestRecipe {
  const seed = START[family] + SETS.indexOf(set) * 100 + index;
  const chance = chanceFrom(seed, set);
  const base = surroundings(set, index, chance);
  const wished =
    set === 'blank'
      ? []
      : set === 'scale'
        ? scattered(chance, chance.whole(4, 16), 0.6)
        : crowd(set === 'hard', chance);
  // What is black on a white membrane cannot be seen on a black one.
  const dark = base.ground.colour[0] < 0.2;
  const things = wished.map((t) =>
    dark && UNSEEN_ON_DARK.includes(t.colour) ? { ...t, colour: 'white' } : t,
  );
  return { ...base, name: `${set}-${String(index + 1).padStart(2, '0')}`, seed, things };
}

const UNSEEN_ON_DARK = ['black', 'brown', 'purple', 'clear'];
const GROUNDS = [
  [0.8, 0.8, 0.78],
  [0.74, 0.74, 0.7],
  [0.82, 0.79, 0.72],
  [0.68, 0.7, 0.71],
] as const;
const INKS = [
  [0.24, 0.3, 0.34],
  [0.12, 0.12, 0.13],
  [0.2, 0.36, 0.24],
  [0.42, 0.44, 0.52],
] as const;

function surroundings(
  set: SetName,
  index: number,
  chance: Chance,
): Omit<TestRecipe, 'name' | 'seed' | 'things'> {
  const hard = set === 'hard';
  const scaleOnly = set === 'scale';
  const dark = hard && index % 6 === 5;
  const width = scaleOnly ? chance.pick([1400, 1800, 2200]) : chance.pick([1800, 2000, 2200]);
  const height = Math.round((width * 3) / 4);
  // Squares in view, from 2 to 40, fix the scale where only the scale is asked for.
  const pitchUm = scaleOnly ? chance.pick([3100, 3100, 5000, 2000]) : 3100;
  const squares = 2 * 20 ** (index / 11);
  const umPerPx = scaleOnly
    ? Math.sqrt((squares * pitchUm * pitchUm) / (width * height)) * 1.12
    : chance.between(hard ? 3 : 3.6, hard ? 7.5 : 6.8);
  const printed = !(scaleOnly && index % 4 === 2);
  const turn = hard || scaleOnly ? 10 : 5;
  const bend = hard || scaleOnly ? 0.035 : 0.012;
  const ink = dark ? ([0.55, 0.56, 0.56] as const) : chance.pick(INKS);
  return {
    width,
    height,
    umPerPx,
    turnDeg: chance.between(-turn, turn),
    distortion: chance.between(-bend, bend),
    ground: {
      colour: dark ? [0.035, 0.036, 0.038] : chance.pick(GROUNDS),
      texture: chance.between(0.008, hard ? 0.035 : 0.02),
      pores: chance.between(0.2, 0.7),
    },
    grid: printed
      ? {
          pitchUm,
          lineUm: chance.between(scaleOnly ? 35 : 50, scaleOnly ? 160 : 110),
          ink,
          cover: scaleOnly ? chance.between(0.25, 0.95) : chance.between(hard ? 0.45 : 0.6, 0.95),
          edgeUm: chance.between(5, 14),
          broken: chance.between(0, hard || scaleOnly ? 0.35 : 0.12),
        }
      : null,
    rings: chance.poisson(hard ? 3 : set === 'blank' ? 2 : 1),
    stains: chance.poisson(hard ? 2.5 : 1),
    scratches: chance.poisson(hard ? 2.5 : 1),
    decoyDepth: hard ? 0.13 : 0.08,
    glare: hard && chance.yes(0.3),
    edge:
      (hard && index % 3 === 1) || (set === 'blank' && index === 4)
        ? {
            x: 0.5,
            y: 0.5,
            radius: chance.between(0.41, 0.47),
            dish: chance.pick([
              [0.06, 0.06, 0.07],
              [0.3, 0.27, 0.24],
              [0.16, 0.2, 0.24],
            ]),
          }
        : null,
    camera: {
      slope: [chance.between(-0.3, 0.3), chance.between(-0.3, 0.3)],
      vignette: chance.between(0.1, hard ? 0.8 : 0.5),
      cast: [1, chance.between(0.92, 1), chance.between(hard ? 0.7 : 0.85, 1.02)],
      blur: hard ? chance.between(0.9, 2) : chance.between(0.6, 1.2),
      defocus: hard && chance.yes(0.5) ? chance.between(2, 4) : 0,
      fringe: hard ? chance.between(-0.0012, 0.0012) : 0,
      well: hard ? chance.between(1500, 6000) : chance.between(5000, 20_000),
      readNoise: 0.002,
      sharpening: chance.yes(0.4) ? chance.between(0.2, 0.7) : 0,
      contrast: chance.between(0, 0.4),
    },
    jpegQuality: hard ? chance.whole(62, 85) : chance.whole(82, 95),
  };
}

const COLOURS = [
  'blue',
  'red',
  'black',
  'green',
  'orange',
  'white',
  'clear',
  'grey',
  'yellow',
  'brown',
  'pink',
  'purple',
];
const KINDS = ['chip', 'chip', 'pebble', 'pebble', 'splinter', 'curl'] as const;

const solid = (chance: Chance, low: number, strength: number): ThingWish => {
  const sizeUm = low * (420 / low) ** (chance.next() ** 1.2);
  const kind = sizeUm < 50 ? chance.pick(['chip', 'pebble'] as const) : chance.pick(KINDS);
  let colour = chance.pick(COLOURS);
  // A clear crumb of a few pixels has no rim to show.
  if (colour === 'clear' && sizeUm < 90) colour = 'blue';
  return { kind, sizeUm, colour, strength };
};

function scattered(chance: Chance, n: number, strength: number): ThingWish[] {
  return Array.from({ length: n }, () => solid(chance, 60, strength));
}

function crowd(hard: boolean, chance: Chance): ThingWish[] {
  const things: ThingWish[] = [];
  const faint = (): number => (hard ? chance.between(0.35, 1) : chance.between(0.75, 1));
  const times = (n: number, make: () => ThingWish): void => {
    for (let i = 0; i < n; i++) things.push(make());
  };
  times(chance.whole(2, hard ? 7 : 4), () => ({
    kind: 'film',
    sizeUm: chance.between(180, 700),
    colour: chance.pick(['clear', 'clear', 'white', 'blue', 'yellow', 'grey']),
    strength: hard ? chance.between(0.5, 0.9) : chance.between(0.8, 1),
  }));
  times(hard ? chance.whole(3, 6) : chance.whole(1, 3), () => ({
    ...solid(chance, 120, faint()),
    touching: false,
  }));
  // Clusters: a first piece and one to three that touch the one before.
  for (let n = hard ? chance.whole(3, 6) : chance.whole(1, 3); n > 0; n--) {
    const first = solid(chance, 90, faint());
    const firm = first.colour === 'clear' ? { ...first, colour: 'red' } : first;
    things.push(firm);
    for (let k = chance.whole(1, hard ? 3 : 2); k > 0; k--) {
      const colour = chance.yes(0.6) ? firm.colour : chance.pick(['blue', 'red', 'black', 'green', 'orange']);
      things.push({ ...solid(chance, 80, faint()), colour, touching: true });
    }
  }
  times(hard ? chance.whole(5, 10) : chance.whole(3, 6), () => ({
    ...solid(chance, 60, faint()),
    onLine: true,
  }));
  times(hard ? chance.whole(6, 14) : chance.whole(3, 7), () => ({
    kind: 'thread',
    sizeUm: chance.between(250, 1900),
    widthUm: hard ? chance.between(5, 15) : chance.between(8, 20),
    colour: chance.pick(['blue', 'black', 'red', 'grey', 'green', 'clear', 'purple', 'brown']),
    strength: faint(),
    crossing: chance.yes(0.35),
  }));
  times(chance.whole(1, 4), () => ({
    kind: 'bead',
    sizeUm: chance.between(40, 260),
    colour: chance.pick(['white', 'orange', 'blue', 'red', 'clear', 'yellow']),
    strength: faint(),
  }));
  times(hard ? chance.whole(20, 45) : chance.whole(12, 26), () => solid(chance, 20, faint()));
  return things;
}
