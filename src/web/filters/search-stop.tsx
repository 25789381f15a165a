import { useMutation, useQueryClient } from '@tanstack/react-query';
import type { FilterJson } from '../../api/index.ts';
import { many } from '../look/words.ts';
import { ask } from '../server/ask.ts';
import { filtersQuery, heard } from '../server/queries.ts';

/** Photographs of the study that wait to be searched can be stopped; those that were are taken up again. */
export function SearchStop({ study, filters }: { study: string; filters: readonly FilterJson[] }) {
  const client = useQueryClient();
  const deed = useMutation({
    mutationFn: (what: 'stopSearch' | 'takeUpSearch') => heard(ask(what, { study })),
    onSettled: () => void client.invalidateQueries({ queryKey: filtersQuery(study).queryKey }),
  });
  const of = (state: string) => filters.flatMap(({ photos }) => photos).filter((one) => one.state === state);
  const [waiting, searching, stopped] = [of('waiting'), of('searching'), of('stopped')].map(
    (photos) => photos.length,
  ) as [number, number, number];
  if (waiting + searching + stopped === 0) return null;
  const says = [
    searching > 0 ? `${many(searching, 'photograph')} being searched` : '',
    waiting > 0 ? `${waiting} waiting` : '',
    stopped > 0 ? `${many(stopped, 'photograph')} not searched: the search was stopped` : '',
  ];
  return (
    <div className="search-stop">
      <p role="status">{says.filter(Boolean).join(', ')}.</p>
      {waiting > 0 ? (
        <button
          type="button"
          className="button"
          disabled={deed.isPending}
          onClick={() => deed.mutate('stopSearch')}
        >
          Stop the search
        </button>
      ) : null}
      {stopped > 0 ? (
        <button
          type="button"
          className="button"
          disabled={deed.isPending}
          onClick={() => deed.mutate('takeUpSearch')}
        >
          Search {stopped === 1 ? 'it' : 'them'} after all
        </button>
      ) : null}
      {deed.error ? (
        <p role="alert" className="sheet-problem">
          {deed.error.message}
        </p>
      ) : null}
    </div>
  );
}
