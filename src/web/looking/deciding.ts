import type { MarkedParticleJson, MarkWish } from '../../api/index.ts';
import type { Waiting } from '../server/outbox.ts';

export type Decision = MarkedParticleJson['decision'];

/** Particles as they will stand when the marks that still wait have arrived. */
export function withWaiting(
  particles: readonly MarkedParticleJson[],
  waiting: readonly Waiting[],
  photo: string,
): readonly MarkedParticleJson[] {
  const own = waiting.filter((mark) => mark.photo === photo);
  if (own.length === 0) return particles;
  const byId = new Map<string, MarkWish[]>();
  for (const { wish } of own) {
    for (const id of wish.particles) byId.set(id, [...(byId.get(id) ?? []), wish]);
  }
  return particles.map((particle) => (byId.get(particle.id) ?? []).reduce(after, particle));
}

/** One that was found and not counted lies outside the question; keeping it changes nothing there. */
const countsOnceKept = ({ counts, counts_on, decision }: MarkedParticleJson): boolean =>
  counts || (counts_on === null && decision === 'dropped');

function after(particle: MarkedParticleJson, wish: MarkWish): MarkedParticleJson {
  switch (wish.deed) {
    case 'keep':
      return { ...particle, decision: 'kept', counts: countsOnceKept(particle) };
    case 'drop':
      return { ...particle, decision: 'dropped', counts: false };
    case 'class':
      return { ...particle, shape: wish.shape };
    case 'colour':
      return { ...particle, colour: wish.colour };
    default:
      // New outlines come from the program that draws them; until then the old ones stay.
      return particle;
  }
}

export const ORDERS = {
  doubt: 'most in need of an eye',
  size: 'largest first',
  colour: 'by colour',
  like: 'most like the chosen one',
  place: 'by place',
} as const;
export type Order = keyof typeof ORDERS;

export type Stands = Decision | 'again';

/** A piece that counts on an overlapping photograph needs no decision here. */
export const standsAs = (p: MarkedParticleJson): Stands => (p.counts_on === null ? p.decision : 'again');

/** Those on which people differ come first. Undecided ones of middling certainty need an eye the most; what is decided, here or elsewhere, needs it least. */
const need = (p: MarkedParticleJson) =>
  (p.disagree.length > 0 ? 2 : 0) +
  (standsAs(p) === 'undecided' ? 1 : 0) +
  (1 - Math.abs(p.certainty - 0.5) * 2);

/**
 * How unlike two pieces look: CIELAB distance in tens (a plain difference of colour), size and slenderness in doublings.
 * Common practice, no source: an order to look in, not a measure that any claim rests on.
 */
export function unlikeness(a: MarkedParticleJson, b: MarkedParticleJson): number {
  const colour = Math.hypot(a.lab[0] - b.lab[0], a.lab[1] - b.lab[1], a.lab[2] - b.lab[2]) / 10;
  const size = Math.log2(Math.max(1, a.feret_max_px) / Math.max(1, b.feret_max_px));
  const slender = (p: MarkedParticleJson) =>
    Math.log2(Math.max(1, p.feret_max_px) / Math.max(1, p.feret_min_px));
  return Math.hypot(colour, size, slender(a) - slender(b), a.shape === b.shape ? 0 : 1);
}

/** The order of the strip; equal ones stay in the order of their numbers. Without a chosen one, likeness orders nothing. */
export function inOrder(
  particles: readonly MarkedParticleJson[],
  order: Order,
  chosen: string | null = null,
): readonly MarkedParticleJson[] {
  const model = particles.find((particle) => particle.id === chosen);
  const by: { readonly [O in Order]: (a: MarkedParticleJson, b: MarkedParticleJson) => number } = {
    doubt: (a, b) => need(b) - need(a),
    size: (a, b) => b.feret_max_px - a.feret_max_px,
    colour: (a, b) => a.colour.localeCompare(b.colour) || b.feret_max_px - a.feret_max_px,
    like: (a, b) => (model ? unlikeness(a, model) - unlikeness(b, model) : 0),
    place: () => 0,
  };
  return [...particles].sort((a, b) => by[order](a, b) || a.number - b.number);
}
