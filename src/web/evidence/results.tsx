import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { Section } from '../look/parts.tsx';
import { ask } from '../server/ask.ts';
import { heard } from '../server/queries.ts';
import { tableOf } from './results-table.ts';
import type { PhotoOf, Piece } from './subset-page.tsx';

/** Out to another laboratory as a table, and back. */
export function Results({
  study,
  subset,
  name,
  pieces,
  photos,
}: {
  study: string;
  subset: string;
  name: string;
  pieces: readonly Piece[];
  photos: PhotoOf;
}) {
  const client = useQueryClient();
  const [csv, setCsv] = useState('');
  const [setting, setSetting] = useState<'infrared' | 'raman'>('infrared');
  const take = useMutation({
    mutationFn: () => heard(ask('addResults', { study }, { csv, setting })),
    onSuccess: () => {
      setCsv('');
      void client.invalidateQueries({ queryKey: ['subset', subset] });
      void client.invalidateQueries({ queryKey: ['study', study] });
    },
  });
  const submit = (event: FormEvent) => {
    event.preventDefault();
    take.mutate();
  };
  const href = `data:text/csv;charset=utf-8,${encodeURIComponent(tableOf(pieces, photos))}`;
  return (
    <Section
      title="Results from elsewhere"
      lead="Send the table with the chart. When it comes back with its column “material” filled, bring it in: all lines or none."
    >
      <p>
        <a className="button" href={href} download={`${name.replaceAll(/[^\p{L}\p{N}]+/gu, '-')}.csv`}>
          The table of pieces
        </a>
      </p>
      <form className="results-form" onSubmit={submit}>
        <label className="button take-picture">
          Choose the table
          <input
            type="file"
            accept=".csv,text/csv,text/plain"
            className="unseen"
            onChange={(event) => void event.currentTarget.files?.[0]?.text().then(setCsv)}
          />
        </label>
        <label>
          Spectra{' '}
          <select
            value={setting}
            onChange={(event) => setSetting(event.currentTarget.value as 'infrared' | 'raman')}
          >
            <option value="infrared">infrared</option>
            <option value="raman">Raman</option>
          </select>
        </label>
        <label className="results-text">
          or paste it here
          <textarea rows={4} value={csv} onChange={(event) => setCsv(event.currentTarget.value)} />
        </label>
        <button type="submit" className="button primary" disabled={csv.trim() === '' || take.isPending}>
          Bring it in
        </button>
      </form>
      {take.error ? (
        <p role="alert" className="sheet-problem">
          {take.error.message} Nothing of the table was taken in.
        </p>
      ) : null}
      {take.data ? <p role="status">{take.data.taken} results taken in.</p> : null}
    </Section>
  );
}
