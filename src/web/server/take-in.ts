import type { QueryClient } from '@tanstack/react-query';
import type { MarkAnswer, ParticlesAnswer } from '../../api/index.ts';
import { particlesQuery } from './queries.ts';

/** Puts the particles of an acknowledged mark in the place of the old ones, so that nothing flickers back. */
export function takeInAnswer(client: QueryClient, answer: MarkAnswer): void {
  const fresh = new Map(answer.particles.map((particle) => [particle.id, particle]));
  client.setQueryData<ParticlesAnswer>(particlesQuery(answer.mark.photo).queryKey, (known) =>
    known === undefined
      ? known
      : { ...known, particles: known.particles.map((particle) => fresh.get(particle.id) ?? particle) },
  );
}
