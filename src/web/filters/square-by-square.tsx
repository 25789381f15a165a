import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { FilterJson } from '../../api/index.ts';
import { many } from '../look/words.ts';
import { ask } from '../server/ask.ts';
import { heard } from '../server/queries.ts';
import { type Places, placedInOrder, squareWords, unphotographed, type Way } from './squares.ts';

const WAYS: readonly (readonly [Way, string])[] = [
  ['rows', 'row by row, each from the left'],
  ['there-and-back', 'row by row, there and back'],
];

/** Photographs of one square each: asked once in which order they were taken, and told which squares are still missing. */
export function SquareBySquare({
  study,
  filter,
  places,
}: {
  study: string;
  filter: FilterJson;
  places: Places;
}) {
  const client = useQueryClient();
  const [way, setWay] = useState<Way>('rows');
  const open = filter.photos.filter((photo) => !places.has(photo.id));
  const missing = unphotographed(filter, places);
  const place = useMutation({
    mutationFn: async () => {
      for (const { photo, square } of placedInOrder(filter, places, way)) {
        await heard(ask('placePhoto', { photo }, { square: [...square] }));
      }
    },
    onSettled: () => client.invalidateQueries({ queryKey: ['study', study, 'places'] }),
  });
  return (
    <>
      {open.length > 1 && filter.pitch_mm !== null ? (
        <form
          className="square-by-square"
          onSubmit={(event) => {
            event.preventDefault();
            place.mutate();
          }}
        >
          <label>
            {many(open.length, 'photograph')} without a place: by their names they go{' '}
            <select value={way} onChange={(event) => setWay(event.currentTarget.value as Way)}>
              {WAYS.map(([key, words]) => (
                <option key={key} value={key}>
                  {words}
                </option>
              ))}
            </select>
          </label>
          <button type="submit" className="button" disabled={place.isPending}>
            {place.isPending ? 'Placing …' : 'One square each, in that order'}
          </button>
          {place.error ? (
            <p role="alert" className="sheet-problem">
              {place.error.message}
            </p>
          ) : null}
        </form>
      ) : null}
      {missing.length > 0 ? (
        <p className="warned" role="status">
          No photograph shows {missing.slice(0, 12).map(squareWords).join('; ')}
          {missing.length > 12 ? `; and ${missing.length - 12} more` : ''}. Take them while the filter still
          lies under the lens, or leave them: they then count as not looked at, which is not none.
        </p>
      ) : null}
    </>
  );
}
