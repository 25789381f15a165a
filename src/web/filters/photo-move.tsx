import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { FilterJson, PhotoJson } from '../../api/index.ts';
import { Choice, Field, Sheet } from '../look/fields.tsx';
import { Section } from '../look/parts.tsx';
import { ask } from '../server/ask.ts';
import { filtersQuery, heard, movesQuery } from '../server/queries.ts';

function useMove(study: string, done: () => void) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (wish: { photo: string; filter: string | null; why: string }) =>
      heard(ask('movePhoto', { photo: wish.photo }, { filter: wish.filter, why: wish.why })),
    onSuccess: async () => {
      done();
      await client.invalidateQueries({ queryKey: ['study', study] });
      await client.invalidateQueries({ queryKey: ['photo'] });
    },
  });
}

/** For a photograph that lies on the wrong filter: to another, or set aside. Nothing is lost; it can be put back. */
export function PhotoMove({ study, filter, photo }: { study: string; filter: FilterJson; photo: PhotoJson }) {
  const [open, setOpen] = useState(false);
  const [to, setTo] = useState('aside');
  const [why, setWhy] = useState('');
  const others = useQuery(filtersQuery(study)).data?.filters.filter(({ id }) => id !== filter.id);
  const move = useMove(study, () => setOpen(false));
  if (!open) {
    return (
      <button type="button" className="button quiet" onClick={() => setOpen(true)}>
        Wrong filter?<span className="unseen"> {photo.name}</span>
      </button>
    );
  }
  return (
    <Sheet
      title={`Where ${photo.name} belongs`}
      lead="It keeps its particles and what was decided on them. Set aside, it counts as not looked at, never as empty."
      problem={move.error?.message ?? null}
      deed={to === 'aside' ? 'Set it aside' : 'Move it'}
      busy={move.isPending}
      onSubmit={() => move.mutate({ photo: photo.id, filter: to === 'aside' ? null : to, why })}
      onClose={() => setOpen(false)}
    >
      <Choice
        label="It shows"
        value={to}
        set={setTo}
        options={[
          ['aside', 'no filter of this study: set it aside'],
          ...(others ?? []).map(({ id, name, run }) => [id, `${name} (${run.name})`] as const),
        ]}
      />
      <Field label="Why" value={why} set={setWhy} hint="Stands in the record, with who and when." />
    </Sheet>
  );
}

/** Photographs of the study that were set aside, each with its way back. */
export function SetAside({ study }: { study: string }) {
  const moves = useQuery(movesQuery(study));
  const filters = useQuery(filtersQuery(study)).data?.filters ?? [];
  const aside = (moves.data?.moves ?? []).filter(({ filter }) => filter === null);
  const move = useMove(study, () => {});
  if (aside.length === 0) return null;
  return (
    <Section title="Set aside">
      <ul className="set-aside">
        {aside.map((one) => (
          <li key={one.photo}>
            <p>
              {one.name}: {one.why} ({one.by}, {one.at.slice(0, 10)})
            </p>
            <Choice
              label={`Put ${one.name} back on`}
              value=""
              set={(filter) => move.mutate({ photo: one.photo, filter, why: 'put back' })}
              options={[
                ['', 'stays set aside'],
                ...filters.map(({ id, name, run }) => [id, `${name} (${run.name})`] as const),
              ]}
            />
          </li>
        ))}
      </ul>
      {move.error ? (
        <p className="warned" role="alert">
          {move.error.message}
        </p>
      ) : null}
    </Section>
  );
}
