import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import type { RoundJson } from '../../api/index.ts';
import { Icon } from '../look/icons.tsx';
import { Section } from '../look/parts.tsx';
import { many } from '../look/words.ts';
import { addressOf, ask } from '../server/ask.ts';
import { heard, roundQuery } from '../server/queries.ts';

/** A reader elsewhere: the round goes out as one page and comes back as a short text. */
export function Packets({ study, round }: { study: string; round: RoundJson }) {
  const client = useQueryClient();
  const [text, setText] = useState('');
  const take = useMutation({
    mutationFn: () => heard(ask('takeAnswers', {}, { text })),
    onSuccess: () => {
      setText('');
      void client.invalidateQueries({ queryKey: roundQuery(round.id).queryKey });
      void client.invalidateQueries({ queryKey: ['study', study] });
    },
  });
  if (round.what !== 'pieces' || round.outcome !== null) return null;
  const readers = [...round.scorers, ...(round.third ? [round.third] : [])].filter(
    (one) => !one.locked && one.of > 0,
  );
  const submit = (event: FormEvent) => {
    event.preventDefault();
    take.mutate();
  };
  return (
    <Section
      title="A second opinion from outside"
      lead="A reader without this program gets one page: the pictures under their codes and large answers. It needs no account and no network, and the key is not in it."
    >
      {readers.length > 0 ? (
        <p className="sheet-deeds">
          {readers.map((one) => (
            <a
              key={one.person}
              className="button"
              href={`${addressOf('packet', { round: round.id })}?reader=${encodeURIComponent(one.person)}`}
              download
            >
              <Icon name="claim" size={20} /> Packet for {one.name}
            </a>
          ))}
        </p>
      ) : null}
      <form className="predict" onSubmit={submit}>
        <label htmlFor="packet-answers">
          Answers that came back: paste the text, or all of the mail around it.
        </label>
        <textarea
          id="packet-answers"
          rows={4}
          value={text}
          onChange={(event) => setText(event.currentTarget.value)}
        />
        <p className="sheet-deeds">
          <label className="button quiet">
            Or choose the file
            <input
              type="file"
              accept=".txt,text/plain"
              className="unseen"
              onChange={(event) => {
                const file = event.currentTarget.files?.[0];
                if (file) void file.text().then(setText);
              }}
            />
          </label>
          <button type="submit" className="button primary" disabled={text.trim() === '' || take.isPending}>
            Take them in
          </button>
        </p>
      </form>
      {take.data ? (
        <p role="status">
          {many(take.data.answers, 'answer')} of {take.data.reader}{' '}
          {take.data.locked
            ? 'are taken in and locked.'
            : 'are taken in; some pictures are not answered yet.'}
        </p>
      ) : null}
      {take.error ? (
        <p role="alert" className="sheet-problem">
          {take.error.message}
        </p>
      ) : null}
    </Section>
  );
}
