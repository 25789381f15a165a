import { type Rgb, surface } from './canvas.ts';
import type { Chance } from './chance.ts';

/** Surface colours by the short list of names; invented to look like board, knife handle, sponge, clothing and the rest. */
const COLOURS: Record<string, readonly Rgb[]> = {
  white: [surface(250, 250, 247), surface(253, 252, 246)],
  grey: [surface(128, 130, 132), surface(105, 108, 112)],
  black: [surface(34, 34, 36), surface(45, 42, 42)],
  blue: [surface(40, 92, 172), surface(60, 120, 190), surface(32, 62, 130)],
  green: [surface(44, 138, 74), surface(70, 158, 92)],
  red: [surface(186, 42, 40), surface(168, 34, 52)],
  pink: [surface(226, 128, 150)],
  orange: [surface(238, 122, 24), surface(246, 138, 42)],
  yellow: [surface(236, 200, 52)],
  brown: [surface(112, 74, 46), surface(92, 62, 42)],
  purple: [surface(112, 62, 140)],
  clear: [surface(244, 244, 242)],
};

/** A surface colour of that name, no two alike. */
export function colourOf(name: string, chance: Chance): Rgb {
  const choices = COLOURS[name];
  if (!choices)
    throw new RangeError(`colour: one of ${Object.keys(COLOURS).join(', ')} is needed, given ${name}`);
  const base = chance.pick(choices);
  const lighter = chance.around(1, name === 'white' ? 0.015 : 0.08);
  const tint = name === 'white' ? 0.004 : 0.03;
  return [
    Math.min(1, base[0] * lighter * (1 + tint * chance.normal())),
    Math.min(1, base[1] * lighter),
    Math.min(1, base[2] * lighter * (1 + tint * chance.normal())),
  ];
}

/** Carrot after digestion: from orange through tan to nearly straw. */
export function carrotColour(chance: Chance): { albedo: Rgb; name: string } {
  const t = chance.next();
  const orange = surface(232, 138, 52);
  const tan = surface(186, 146, 96);
  const mix = (i: 0 | 1 | 2): number => orange[i] * (1 - t) + tan[i] * t;
  return { albedo: [mix(0), mix(1), mix(2)], name: t < 0.6 ? 'orange' : 'brown' };
}
