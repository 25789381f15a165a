import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { FilterJson, PhotoJson } from '../../api/index.ts';
import { Choice } from '../look/fields.tsx';
import { ask } from '../server/ask.ts';
import { heard, placesQuery } from '../server/queries.ts';
import { placesOnDisc, type Square, squareWords } from './squares.ts';

/** What a photograph of a filter shows: the whole disc, one square of it, or nobody has said. */
export function PhotoPlace({
  study,
  filter,
  photo,
}: {
  study: string;
  filter: FilterJson;
  photo: PhotoJson;
}) {
  const client = useQueryClient();
  const said = useQuery(placesQuery(study)).data?.places.find((place) => place.photo === photo.id);
  const [problem, setProblem] = useState<string | null>(null);
  const place = useMutation({
    mutationFn: (square: Square | null) =>
      heard(ask('placePhoto', { photo: photo.id }, { square: square === null ? null : [...square] })),
    onSuccess: () => client.invalidateQueries({ queryKey: ['study', study, 'places'] }),
    onError: (error) => setProblem(error.message),
  });
  const places = placesOnDisc(filter);
  const value = said === undefined ? 'unsaid' : said.square === null ? 'whole' : said.square.join(',');
  const known = places.some((square) => square.join(',') === value);
  return (
    <div className="photo-place">
      <Choice
        label={`${photo.name} shows`}
        value={value}
        set={(next) => {
          if (next === 'unsaid') return;
          setProblem(null);
          place.mutate(next === 'whole' ? null : (next.split(',').map(Number) as unknown as Square));
        }}
        options={[
          ...(said === undefined ? [['unsaid', 'place not said'] as const] : []),
          ['whole', 'the whole disc'] as const,
          ...(known || value === 'unsaid' || value === 'whole'
            ? []
            : [[value, squareWords(said!.square!)] as const]),
          ...places.map((square) => [square.join(','), squareWords(square)] as const),
        ]}
      />
      {problem ? (
        <p className="warned" role="alert">
          {problem}
        </p>
      ) : null}
    </div>
  );
}
