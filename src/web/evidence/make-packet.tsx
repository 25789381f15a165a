import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { Icon } from '../look/icons.tsx';
import { many } from '../look/words.ts';
import { addressOf, ask } from '../server/ask.ts';
import { heard } from '../server/queries.ts';
import { toEvidence } from './paths.ts';

/** A second opinion in one step: who is asked; the program chooses the pieces, seals them and gives one file. */
export function MakePacket({ study }: { study: string }) {
  const client = useQueryClient();
  const [reader, setReader] = useState('');
  const make = useMutation({
    mutationFn: () => heard(ask('makePacket', { study }, { reader })),
    onSuccess: () => {
      setReader('');
      void client.invalidateQueries({ queryKey: ['study', study] });
    },
  });
  const submit = (event: FormEvent) => {
    event.preventDefault();
    make.mutate();
  };
  const made = make.data;
  return (
    <form className="predict" onSubmit={submit} aria-label="Make a packet">
      <label htmlFor="packet-reader">
        A second opinion from outside: a dozen pieces on which the claim hangs most and known ones among them,
        sealed, as one file without the key. Who is asked?
      </label>
      <input
        id="packet-reader"
        value={reader}
        placeholder="Name of the reader"
        onChange={(event) => setReader(event.currentTarget.value)}
      />
      <button type="submit" className="button" disabled={reader.trim() === '' || make.isPending}>
        {make.isPending ? 'Choosing and sealing …' : 'Make a packet'}
      </button>
      {made ? (
        <p role="status" className="sheet-deeds">
          <a
            className="button primary"
            href={`${addressOf('packet', { round: made.round })}?reader=${encodeURIComponent(made.reader)}`}
            download
          >
            <Icon name="claim" size={20} /> {many(made.pictures, 'picture')}: save the file to send
          </a>{' '}
          <a href={toEvidence(study, `round-${made.round}`)}>{made.name}</a>: read the same pictures yourself
          there, and take in the answers that come back.
        </p>
      ) : null}
      {make.error ? (
        <p role="alert" className="sheet-problem">
          {make.error.message}
        </p>
      ) : null}
    </form>
  );
}
