/** Whether what should be empty membrane is even enough to tell particles from it. */
import type { Refusal } from '../../units/index.ts';
import type { Membrane } from './membrane.ts';
import { medianInPlace } from './robust.ts';

/** Grain, noise and compression of the coarsest drawn membranes vary by 5 % of their light (project choice). */
const MOST = 0.15;
/** Grounds darker than this code of 1 vary by much of their light from noise alone, but not by all of it. */
const DARK = 0.12;
const MOST_DARK = 1;

/**
 * Refuses a picture in which the ground itself, away from print, varies by more than `MOST` of its own light over most of
 * the field: then particles cover about half of it, or it is no filter, and no count would mean anything.
 */
export function unevenGate(membrane: Membrane): Refusal | null {
  const varies = medianInPlace(Float64Array.from(membrane.noise[0]!.lightness.values));
  const ground = medianInPlace(Float64Array.from(membrane.background[0]!.values));
  const most = ground < DARK ? MOST_DARK : MOST;
  if (varies <= most) return null;
  return {
    why: 'too-crowded',
    message: `This doesn't look like a filter with separate particles: what should be empty membrane varies by ${Math.round(100 * varies)} % of its own light from place to place (a filter like this varies by less than ${Math.round(100 * most)} %); photograph a part where membrane shows between the particles, or spread the sample over more filters.`,
  };
}
