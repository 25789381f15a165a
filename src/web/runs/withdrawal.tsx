import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { ReturningWish, WithdrawnAnswer } from '../../api/index.ts';
import { Field, Sheet } from '../look/fields.tsx';
import { Icon } from '../look/icons.tsx';
import { NotYet, Section } from '../look/parts.tsx';
import { ask } from '../server/ask.ts';
import { heard, withdrawnQuery } from '../server/queries.ts';
import { CountMark } from './count-mark.tsx';

type What = ReturningWish['what'];
type One = WithdrawnAnswer['withdrawn'][number];

function useWord(study: string, done: () => void) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (wish: ReturningWish) => heard(ask('withdrawOrPutBack', { study }, wish)),
    onSuccess: async () => {
      done();
      await client.invalidateQueries({ queryKey: ['study', study] });
      await client.invalidateQueries({ queryKey: ['sheet'] });
    },
  });
}

const LEADS: { readonly [W in What]: string } = {
  run: 'It stays on record with all that belongs to it, and is in no figure until it is put back.',
  portion: 'It stays on record; the run that used it goes along and is in no figure until it is put back.',
  procedure: 'It stays on record and is not offered for new runs until it is put back.',
};

/** A button that asks for the reason before it withdraws. `counted`: what it counts can be read already. */
export function Withdraw({
  study,
  what,
  subject,
  name,
  counted = false,
  onDone = () => {},
}: {
  study: string;
  what: What;
  subject: string;
  name: string;
  counted?: boolean;
  onDone?: () => void;
}) {
  const [open, setOpen] = useState(false);
  const [why, setWhy] = useState('');
  const word = useWord(study, () => {
    setOpen(false);
    onDone();
  });
  if (!open) {
    return (
      <button
        type="button"
        className={what === 'portion' ? 'button quiet' : 'button'}
        onClick={() => setOpen(true)}
      >
        Withdraw<span className="unseen"> {name}</span>
      </button>
    );
  }
  return (
    <Sheet
      title={`Withdraw ${name}`}
      lead={LEADS[what]}
      problem={word.error?.message ?? null}
      deed="Withdraw it"
      busy={word.isPending}
      onSubmit={() => word.mutate({ what, subject, withdrawn: true, why })}
      onClose={() => setOpen(false)}
    >
      <Field
        wide
        label="What went wrong"
        value={why}
        set={setWhy}
        hint="Stands in the claim and in the report, with who and when."
      />
      {counted ? (
        <p className="warned">
          <Icon name="warn" size={20} /> What it counts can be read already, and the report will say so.
          Leaving out runs whose counts are known can pick a result: the reason must hold whatever was
          counted.
        </p>
      ) : null}
    </Sheet>
  );
}

/** What is withdrawn of some kinds, why, and the way back. */
export function WithdrawnHere({ study, kinds }: { study: string; kinds: readonly What[] }) {
  const gone = useQuery(withdrawnQuery(study));
  const word = useWord(study, () => {});
  if (!gone.data) return gone.isError ? <NotYet query={gone} what="what was withdrawn" /> : null;
  const mine = gone.data.withdrawn.filter(({ what }) => kinds.includes(what));
  if (mine.length === 0) return null;
  return (
    <Section title="Withdrawn" lead="On record, and in no figure. Nothing of it was changed.">
      <ul className="withdrawn-list">
        {mine.map((one) => (
          <li key={one.subject}>
            <div>
              <h3>
                {one.name} <small>{one.what}</small>
              </h3>
              <p>
                “{one.why}” <small>{said(one)}</small>
              </p>
              {one.runs.map((run) => (
                <p key={run.id} className="fine">
                  {one.what === 'run' ? '' : `Run ${run.name} went along. `}
                  {run.count.state === 'counted' ? 'Counted ' : ''}
                  <CountMark count={run.count} />
                  {run.count.state !== 'counted'
                    ? ''
                    : one.count_open
                      ? ', which could be read when it was withdrawn.'
                      : ', looked at since.'}
                </p>
              ))}
            </div>
            <button
              type="button"
              className="button"
              disabled={word.isPending}
              onClick={() =>
                word.mutate({ what: one.what, subject: one.subject, withdrawn: false, why: 'put back' })
              }
            >
              Put back<span className="unseen"> {one.name}</span>
            </button>
          </li>
        ))}
      </ul>
      {word.error ? (
        <p className="warned" role="alert">
          {word.error.message}
        </p>
      ) : null}
    </Section>
  );
}

const said = ({ by, at }: One): string => `${by ? `${by}, ` : ''}${at.slice(0, 10)}`;
