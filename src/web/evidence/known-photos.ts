import { useQueries, useQuery } from '@tanstack/react-query';
import type { MarkedParticleJson, PhotoJson } from '../../api/index.ts';
import { filtersQuery, particlesQuery } from '../server/queries.ts';

export interface OnPhoto {
  readonly photo: PhotoJson;
  readonly particle: MarkedParticleJson;
}

/** Photographs of known material, and every piece found on them. */
export function useKnownPhotos(study: string): {
  readonly photos: readonly PhotoJson[];
  readonly pieces: ReadonlyMap<string, OnPhoto>;
} {
  const filters = useQuery(filtersQuery(study)).data?.filters ?? [];
  const photos = filters
    .filter((filter) => filter.run.kind === 'known-material')
    .flatMap((filter) => filter.photos)
    .filter((photo) => photo.state === 'searched');
  const read = useQueries({ queries: photos.map((photo) => particlesQuery(photo.id)) });
  const pieces = new Map<string, OnPhoto>();
  read.forEach(({ data }, at) => {
    const photo = photos[at];
    for (const particle of data?.particles ?? []) if (photo) pieces.set(particle.id, { photo, particle });
  });
  return { photos, pieces };
}
