import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import type { RoundJson } from '../../api/index.ts';
import { pathTo } from '../app/where.ts';
import { Failed, PlaceHead, Section, Waiting } from '../look/parts.tsx';
import { many, momentWords } from '../look/words.ts';
import { MethodLink } from '../methods/method-link.tsx';
import { ask } from '../server/ask.ts';
import { heard, roundQuery } from '../server/queries.ts';
import { Agreement } from './agreement.tsx';
import { BackToEvidence } from './back.tsx';
import { Packets } from './packet.tsx';
import { toEvidence } from './paths.ts';
import { STAGE_WORDS } from './rounds.tsx';
import { Steps } from './subsets.tsx';

/** A round: sealed, being scored, locked, open; what each may do now, and after the opening what it found. */
export function RoundPage({ study, round: id }: { study: string; round: string }) {
  const { data, error, refetch } = useQuery(roundQuery(id));
  if (error && !data) return <Failed error={error} again={() => void refetch()} />;
  if (!data) return <Waiting what="the round" />;
  return (
    <div className="page">
      <BackToEvidence study={study} />
      <PlaceHead
        title={data.name}
        lead={
          data.stage === 'elsewhere'
            ? `${STAGE_WORDS.elsewhere[0]!.toUpperCase()}${STAGE_WORDS.elsewhere.slice(1)}.`
            : `${many(data.pictures, data.what === 'fields' ? 'field' : 'picture')}, ${STAGE_WORDS[data.stage]}.`
        }
      />
      <Seal round={data} />
      {data.stage === 'elsewhere' ? null : (
        <>
          <Scorers study={study} round={data} />
          <Packets study={study} round={data} />
          <Opening study={study} round={data} />
        </>
      )}
      {data.outcome ? <Agreement round={data} outcome={data.outcome} /> : null}
      <Section title="What happened to it">
        <ul className="round-events">
          <li>
            <time>{momentWords(data.at)}</time> <span>sealed by {data.sealed_by}</span>
          </li>
          {data.events.map((event) => (
            <li key={`${event.at} ${event.deed} ${event.by}`}>
              <time>{event.at.slice(0, 16).replace('T', ' ')}</time>{' '}
              <span>
                {DEED_WORDS[event.deed] ?? event.deed} by {event.by}
                {event.says ? `: ${event.says}` : ''}
              </span>
            </li>
          ))}
        </ul>
        <MethodLink name="blinding" />
      </Section>
    </div>
  );
}

const DEED_WORDS: Readonly<Record<string, string>> = {
  predict: 'predicted',
  lock: 'locked',
  open: 'opened',
  'take-over': 'taken over',
};

function Seal({ round }: { round: RoundJson }) {
  const open = round.outcome !== null;
  return (
    <div className={open ? 'seal is-open' : 'seal'}>
      <svg viewBox="0 0 64 64" width="64" height="64" aria-hidden="true">
        <circle
          cx="32"
          cy="32"
          r="24"
          fill="none"
          stroke="currentColor"
          strokeWidth="2.5"
          strokeDasharray={open ? '5 5' : undefined}
        />
        {Array.from(round.key_hash.slice(0, 24), (sign, at) => {
          const length = 5 + Number.parseInt(sign, 16) * 0.9;
          const angle = (at / 24) * 2 * Math.PI;
          return (
            <line
              // biome-ignore lint/suspicious/noArrayIndexKey: rays of one seal have no identity of their own.
              key={at}
              x1={32 + 4 * Math.cos(angle)}
              y1={32 + 4 * Math.sin(angle)}
              x2={32 + length * Math.cos(angle)}
              y2={32 + length * Math.sin(angle)}
              stroke="currentColor"
              strokeWidth="1.6"
            />
          );
        })}
      </svg>
      <p>
        <strong>{open ? 'The key is open' : 'The key is sealed'}</strong>
        <span>
          {open
            ? `It matches the hash shown when it was sealed; the draw’s seed was ${round.seed}.`
            : round.stage === 'elsewhere'
              ? 'This study was packed while the round was sealed: the key, its seed and the readings stayed in the laboratory that drew it, so it can be neither scored nor opened here. A key opened there must have this hash.'
              : 'Which picture is whose is kept back until all have locked. Write the hash down: it must be the same at the opening.'}
        </span>
        <code>{round.key_hash}</code>
      </p>
    </div>
  );
}

function Scorers({ study, round }: { study: string; round: RoundJson }) {
  const all = [...round.scorers, ...(round.third ? [round.third] : [])];
  return (
    <Section title="Who scores">
      <ul className="scorers">
        {all.map((one) => {
          const third = one.person === round.third?.person;
          const mine = one.person === round.working;
          return (
            <li key={one.person}>
              <span className="row-name">
                {one.name}
                {third ? <small> settles what the two disagree on</small> : null}
              </span>
              <Steps done={one.done} of={one.of} />
              <span>
                {one.locked ? 'locked' : one.of === 0 ? 'not yet needed' : `${one.done} of ${one.of} read`}
              </span>
              {mine && !one.locked && one.of > 0 ? (
                <a className="button primary" href={toEvidence(study, `score-${round.id}`)}>
                  {one.done === 0 ? 'Begin' : one.done === one.of ? 'Look again and lock' : 'Go on'}
                </a>
              ) : null}
            </li>
          );
        })}
      </ul>
      {round.outcome === null ? (
        <p className="fine">
          Each sees the pictures in an order of their own
          {round.known_slipped_in ? ', known pieces among them' : ''}. Choose at the top of the page who is
          working.
        </p>
      ) : null}
    </Section>
  );
}

function Opening({ study, round }: { study: string; round: RoundJson }) {
  const client = useQueryClient();
  const [says, setSays] = useState('');
  const told = (answer: RoundJson) => {
    client.setQueryData(roundQuery(round.id).queryKey, answer);
    void client.invalidateQueries({ queryKey: ['study', study] });
  };
  const predict = useMutation({
    mutationFn: () => heard(ask('predictRound', { round: round.id }, { says })),
    onSuccess: (answer) => {
      told(answer);
      setSays('');
    },
  });
  const open = useMutation({
    mutationFn: (without: boolean) =>
      heard(ask('openRound', { round: round.id }, { without_third: without })),
    onSuccess: told,
  });
  const over = useMutation({
    mutationFn: () => heard(ask('takeRoundOver', { round: round.id })),
    onSuccess: () => {
      void client.invalidateQueries({ queryKey: ['round', round.id] });
      void client.invalidateQueries({ queryKey: ['study', study] });
    },
  });
  const problem = predict.error ?? open.error ?? over.error;
  const submit = (event: FormEvent) => {
    event.preventDefault();
    predict.mutate();
  };
  const sealed = round.outcome === null;
  return (
    <Section title={sealed ? 'Before the key is opened' : 'What it changes'}>
      {round.predictions.map((one) => (
        <blockquote className="prediction" key={`${one.at} ${one.by}`}>
          “{one.says}” <cite>{one.by}, before the opening</cite>
        </blockquote>
      ))}
      {sealed ? (
        <form className="predict" onSubmit={submit}>
          <label htmlFor="prediction">
            What do you expect? More, as many or fewer than in the controls, and about how many.
          </label>
          <textarea
            id="prediction"
            rows={2}
            value={says}
            onChange={(event) => setSays(event.currentTarget.value)}
          />
          <button type="submit" className="button" disabled={says.trim() === '' || predict.isPending}>
            Write it down
          </button>
        </form>
      ) : null}
      {sealed ? (
        <p className="sheet-deeds">
          <button
            type="button"
            className="button primary"
            disabled={round.stage === 'scoring' || round.predictions.length === 0 || open.isPending}
            onClick={() => open.mutate(false)}
          >
            Open the key
          </button>
          {round.stage === 'third' ? (
            <button
              type="button"
              className="button"
              disabled={round.predictions.length === 0}
              onClick={() => open.mutate(true)}
            >
              Open without the third
            </button>
          ) : null}
          <span className="fine">
            {round.stage === 'scoring'
              ? 'It stays sealed until everybody has locked.'
              : round.predictions.length === 0
                ? 'Write an expectation down first.'
                : 'A key is opened once.'}
          </span>
        </p>
      ) : round.what === 'fields' ? (
        <p>This round measured how many pieces are found; it decides on no piece.</p>
      ) : round.stage === 'taken-over' ? (
        <p>
          Its decisions are marks now, and the claim rests on them: see{' '}
          <a href={pathTo({ page: 'claim', study, item: null })}>the claim</a>. They can be undone like all
          marks.
        </p>
      ) : (
        <>
          <p>
            Taking it over marks every piece as the round decided: kept where it was taken for plastic,
            dropped where not. Pieces left undecided get no mark and are carried as a range.
          </p>
          <p className="sheet-deeds">
            <button
              type="button"
              className="button primary"
              disabled={over.isPending}
              onClick={() => over.mutate()}
            >
              Take it over as marks
            </button>
          </p>
        </>
      )}
      {problem ? (
        <p role="alert" className="sheet-problem">
          {problem.message}
        </p>
      ) : null}
    </Section>
  );
}
