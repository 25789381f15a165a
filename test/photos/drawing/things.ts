import { linear } from '../../../demo/drawing/canvas.ts';
import type { Chance } from '../../../demo/drawing/chance.ts';
import { bandAround, feretOf, type Spot } from '../../../demo/drawing/outline-measures.ts';
import type { TruePiece } from '../../../demo/drawing/truth.ts';
import { ball, chip, curl, pebble, splinter, thread } from './forms.ts';
import { type Lamp, paintBody } from './paint.ts';
import { paintThread } from './paint-thread.ts';
import type { Planes } from './planes.ts';

export interface ThingWish {
  readonly kind: 'chip' | 'pebble' | 'splinter' | 'curl' | 'bead' | 'film' | 'thread';
  readonly sizeUm: number;
  readonly colour: string;
  readonly widthUm?: number;
  /** 1 shows at its strongest; less is fainter. */
  readonly strength: number;
  readonly touching?: boolean;
  readonly crossing?: boolean;
  readonly onLine?: boolean;
}

export interface Thing {
  readonly wish: ThingWish;
  readonly shape: TruePiece['shape'];
  readonly form: readonly Spot[];
  readonly line: readonly Spot[] | null;
  readonly widthUm: number | null;
  paint(planes: Planes, outline: readonly Spot[], line: readonly Spot[] | null, lamp: Lamp): void;
}

/** sRGB bytes around which a colour name scatters. */
const HUES: Record<string, readonly [number, number, number]> = {
  white: [250, 250, 248],
  grey: [120, 122, 120],
  black: [40, 40, 42],
  blue: [52, 86, 168],
  green: [58, 142, 62],
  red: [176, 48, 48],
  pink: [222, 132, 158],
  orange: [232, 130, 48],
  yellow: [228, 198, 74],
  brown: [116, 80, 50],
  purple: [106, 70, 142],
  clear: [236, 238, 238],
};

function hue(name: string, chance: Chance): [number, number, number] {
  const base = HUES[name];
  if (!base) throw new RangeError(`colour: one of ${Object.keys(HUES).join(', ')} is needed, given ${name}`);
  const gain = name === 'white' ? 1 : chance.between(0.85, 1.15);
  return [0, 1, 2].map((c) => {
    const wander = name === 'white' || name === 'clear' ? 0 : 9 * chance.normal();
    return linear(Math.min(255, Math.max(8, base[c]! * gain + wander)) / 255);
  }) as [number, number, number];
}

export function makeThing(wish: ThingWish, chance: Chance): Thing {
  const colour = hue(wish.colour, chance);
  const looks = chance.branch('looks');
  if (wish.kind === 'thread') return makeThread(wish, colour, chance, looks);
  const form = formOf(wish, chance);
  const film = wish.kind === 'film';
  const clear = wish.colour === 'clear' ? 0.9 : film ? 0.72 : 0.06;
  return {
    wish,
    shape: film ? 'film' : wish.kind === 'bead' ? 'bead' : 'fragment',
    form,
    line: null,
    widthUm: null,
    paint(planes, outline, _line, lamp) {
      const size = feretOf(outline).max;
      paintBody(
        planes,
        outline,
        {
          colour,
          clear: 1 - (1 - clear) * wish.strength,
          rim: film ? Math.max(1.5, size * 0.03) : Math.max(1.3, size * looks.between(0.08, 0.3)),
          slope: film ? 0.5 : looks.between(0.35, 0.8),
          shadow: (film ? 0.05 : looks.between(0.08, 0.3)) * wish.strength,
          shine: wish.kind === 'bead' ? 0.8 : looks.yes(0.3) ? 0.35 : 0,
          ball: wish.kind === 'bead',
          // Most plastic is opaque to its edge; one piece in five thins out.
          edge: looks.yes(0.2) ? 0.35 : 0.85,
        },
        lamp,
        looks,
      );
    },
  };
}

function formOf(wish: ThingWish, chance: Chance): Spot[] {
  switch (wish.kind) {
    case 'chip':
      return chip(wish.sizeUm, chance);
    case 'splinter':
      return splinter(wish.sizeUm, chance);
    case 'curl':
      return curl(wish.sizeUm, chance);
    case 'bead':
      return ball(wish.sizeUm);
    case 'film':
      return pebble(wish.sizeUm, 0.3, chance);
    default:
      return pebble(wish.sizeUm, chance.between(0.15, 0.45), chance);
  }
}

function makeThread(wish: ThingWish, colour: [number, number, number], chance: Chance, looks: Chance): Thing {
  const widthUm = wish.widthUm ?? chance.between(6, 20);
  const line = thread(wish.sizeUm, chance.between(0.1, 1.2), chance);
  return {
    wish,
    shape: 'fibre',
    form: bandAround(line, () => widthUm / 2),
    line,
    widthUm,
    paint(planes, outline, placed, lamp) {
      const first = outline[0]!;
      const last = outline[outline.length - 1]!;
      const halfPx = Math.hypot(first[0] - last[0], first[1] - last[1]) / 2;
      const clear = wish.colour === 'clear' ? 0.85 : looks.between(0.1, 0.4);
      paintThread(
        planes,
        placed!,
        {
          colour,
          clear: 1 - (1 - clear) * wish.strength,
          halfPx,
          fading: looks.yes(0.35) ? looks.between(0.2, 0.7) : 0,
        },
        lamp,
        looks,
      );
    },
  };
}
