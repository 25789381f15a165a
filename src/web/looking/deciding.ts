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

function after(particle: MarkedParticleJson, wish: MarkWish): MarkedParticleJson {
  switch (wish.deed) {
    case 'keep':
      return { ...particle, decision: 'kept', counts: true };
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
  place: 'by place',
} as const;
export type Order = keyof typeof ORDERS;

/** Undecided ones of middling certainty need an eye the most; what is decided needs it least. */
const need = (p: MarkedParticleJson) =>
  (p.decision === 'undecided' ? 1 : 0) + (1 - Math.abs(p.certainty - 0.5) * 2);

/** The order of the strip; equal ones stay in the order of their numbers. */
export function inOrder(
  particles: readonly MarkedParticleJson[],
  order: Order,
): readonly MarkedParticleJson[] {
  const by: { readonly [O in Order]: (a: MarkedParticleJson, b: MarkedParticleJson) => number } = {
    doubt: (a, b) => need(b) - need(a),
    size: (a, b) => b.feret_max_px - a.feret_max_px,
    colour: (a, b) => a.colour.localeCompare(b.colour) || b.feret_max_px - a.feret_max_px,
    place: () => 0,
  };
  return [...particles].sort((a, b) => by[order](a, b) || a.number - b.number);
}
