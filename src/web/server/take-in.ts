import type { QueryClient } from '@tanstack/react-query';
import type { FiltersAnswer, MarkAnswer, ParticlesAnswer } from '../../api/index.ts';
import { filtersQuery, particlesQuery } from './queries.ts';

/**
 * Puts the particles of an acknowledged mark in the place of the old ones, and the count of their filter with them, so
 * that nothing flickers back while everything else is read anew.
 */
export function takeInAnswer(client: QueryClient, study: string, answer: MarkAnswer): void {
  const { photo } = answer.mark;
  const fresh = new Map(answer.particles.map((particle) => [particle.id, particle]));
  let more = 0;
  client.setQueryData<ParticlesAnswer>(particlesQuery(photo).queryKey, (known) => {
    if (known === undefined) return known;
    const gone = new Set(answer.gone);
    const staying = known.particles.filter((particle) => {
      if (gone.has(particle.id)) more -= Number(particle.counts);
      return !gone.has(particle.id);
    });
    const particles = staying.map((particle) => {
      const now = fresh.get(particle.id) ?? particle;
      more += Number(now.counts) - Number(particle.counts);
      fresh.delete(particle.id);
      return now;
    });
    const added = [...fresh.values()].sort((a, b) => a.number - b.number);
    for (const particle of added) more += Number(particle.counts);
    return { ...known, particles: [...particles, ...added] };
  });
  client.setQueryData<FiltersAnswer>(filtersQuery(study).queryKey, (known) =>
    known === undefined
      ? known
      : { ...known, filters: known.filters.map((one) => counted(one, photo, more)) },
  );
}

type Filter = FiltersAnswer['filters'][number];

function counted(filter: Filter, photo: string, more: number): Filter {
  const own = filter.photos.some((one) => one.id === photo);
  if (!own || more === 0 || filter.count.state !== 'counted') return filter;
  return { ...filter, count: { ...filter.count, count: Math.max(0, filter.count.count + more) } };
}
