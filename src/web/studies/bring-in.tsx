import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { UnpackedJson } from '../../api/index.ts';
import { pathTo } from '../app/where.ts';
import { many } from '../look/words.ts';
import { Declined } from '../server/ask.ts';
import { putFile } from '../server/put-file.ts';

/** Brings a packed study into this laboratory; everything is checked before anything is kept. */
export function BringStudyIn() {
  const client = useQueryClient();
  const [as, setAs] = useState('');
  const [file, setFile] = useState<File | null>(null);
  const bring = useMutation({
    mutationFn: (archive: File) => putFile<UnpackedJson>('unpackStudy', {}, { as: as.trim() }, archive),
    onSuccess: () => {
      setFile(null);
      void client.invalidateQueries({ queryKey: ['studies'] });
    },
  });
  const taken = bring.error instanceof Declined && bring.error.why === 'name-taken';
  return (
    <section className="section" aria-label="Bring a study in">
      <h2>Bring a study in</h2>
      <p className="section-lead">
        From an archive that was packed in its claim place. It is checked to the byte first.
      </p>
      <p>
        <label className="button take-picture">
          {bring.isPending ? 'Checking and bringing in …' : 'Choose an archive (zip)'}
          <input
            type="file"
            accept=".zip,application/zip"
            className="unseen"
            disabled={bring.isPending}
            onChange={(event) => {
              const chosen = event.currentTarget.files?.[0] ?? null;
              event.currentTarget.value = '';
              setFile(chosen);
              if (chosen) bring.mutate(chosen);
            }}
          />
        </label>
      </p>
      {bring.error ? (
        <p role="alert" className="sheet-problem">
          {bring.error.message}
        </p>
      ) : null}
      {taken && file ? (
        <form
          className="results-form"
          onSubmit={(event) => {
            event.preventDefault();
            bring.mutate(file);
          }}
        >
          <label>
            Its name here
            <input value={as} onChange={(event) => setAs(event.currentTarget.value)} />
          </label>
          <button type="submit" className="button primary" disabled={as.trim() === ''}>
            Bring it in under this name
          </button>
        </form>
      ) : null}
      {bring.data ? (
        <p role="status">
          <a href={pathTo({ page: 'stands', study: bring.data.id })}>{bring.data.study}</a> is here:{' '}
          {many(bring.data.rows, 'record')}, {many(bring.data.originals, 'original')};{' '}
          {bring.data.same_claim
            ? 'the claim is the one that was packed, digit for digit.'
            : 'the claim differs from the packed one: another version packed it.'}
        </p>
      ) : null}
    </section>
  );
}
