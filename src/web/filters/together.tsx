import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { FilterJson } from '../../api/index.ts';
import { many } from '../look/words.ts';
import { ask } from '../server/ask.ts';
import { heard } from '../server/queries.ts';

/** Photographs of a filter that show some of the same pieces: what is done about it, and the way to have it otherwise. */
export function Together({ study, filter }: { study: string; filter: FilterJson }) {
  const client = useQueryClient();
  const [problem, setProblem] = useState<string | null>(null);
  const say = useMutation({
    mutationFn: (apart: boolean) => heard(ask('countApart', { filter: filter.id }, { apart })),
    onSuccess: () => client.invalidateQueries({ queryKey: ['study', study] }),
    onError: (error) => setProblem(error.message),
  });
  const { together } = filter;
  if (together === null) return null;
  const { apart, by } = together;
  return (
    <div className="together">
      <p>
        {apart ? (
          <>
            Each photograph counts for itself{by ? `: ${by} said so` : ''}. Pieces that two of them show count
            twice.
          </>
        ) : (
          <>
            {many(together.photos.length, 'photograph')} overlap:{' '}
            {together.seen_again === 0
              ? 'their shared area is taken once.'
              : `${many(together.seen_again, 'sighting')} of pieces that another of them shows ${together.seen_again === 1 ? 'is' : 'are'} not counted again, and their shared area is taken once.`}
          </>
        )}
      </p>
      <button
        type="button"
        className="button quiet"
        disabled={say.isPending}
        onClick={() => {
          setProblem(null);
          say.mutate(!apart);
        }}
      >
        {apart ? 'Count shared pieces once' : 'Count each photograph for itself'}
      </button>
      {problem ? (
        <p className="warned" role="alert">
          {problem}
        </p>
      ) : null}
    </div>
  );
}
