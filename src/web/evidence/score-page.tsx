import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useEffect, useRef, useState } from 'react';
import type { ScoringJson } from '../../api/index.ts';
import { pathTo } from '../app/where.ts';
import { Icon } from '../look/icons.tsx';
import { Failed, Waiting } from '../look/parts.tsx';
import { lengthWords, many } from '../look/words.ts';
import { useKeys } from '../looking/use-keys.ts';
import { addressOf, ask, read } from '../server/ask.ts';
import { heard, studiesQuery, useScoresAlone } from '../server/queries.ts';
import { useWorking, workingHeader } from '../server/working.ts';
import { CallButtons } from './drill-run.tsx';
import { BlindPicture, type Point } from './field-picture.tsx';
import { toEvidence } from './paths.ts';

type Called = 'plastic' | 'other' | 'cannot-tell';
type Guess = 'specimen' | 'control';
type Card = NonNullable<ScoringJson['card']>;

async function scoring(round: string, place: number | null): Promise<ScoringJson> {
  const query = place === null ? '' : `?place=${place}`;
  const answer = await fetch(`${addressOf('scoring', { round })}${query}`, { headers: workingHeader() });
  return (await read(answer)) as ScoringJson;
}

/** One picture after the other, by keys or by thumb; nothing on the page tells where a picture comes from. */
export function ScorePage({ study, round }: { study: string; round: string }) {
  const client = useQueryClient();
  const working = useWorking();
  const [place, setPlace] = useState<number | null>(null);
  const { data, error, refetch } = useQuery({
    queryKey: ['scoring', round, working, place],
    queryFn: () => heard(scoring(round, place)),
    staleTime: 0,
    gcTime: 0,
  });
  const lock = useMutation({
    mutationFn: () => heard(ask('lockRound', { round })),
    onSuccess: () => {
      void client.invalidateQueries({ queryKey: ['round', round] });
      void client.invalidateQueries({ queryKey: studiesQuery.queryKey });
      void client.invalidateQueries({ queryKey: ['study', study] });
      void refetch();
    },
  });
  const scoresAlone = useScoresAlone();
  const back = (
    <a
      className="button quiet"
      href={scoresAlone ? pathTo({ page: 'studies' }) : toEvidence(study, `round-${round}`)}
    >
      <Icon name="back" size={20} /> {scoresAlone ? 'To score' : 'Round'}
    </a>
  );
  if (error && !data) {
    return (
      <div className="page">
        {back}
        <Failed error={error} again={() => void refetch()} />
      </div>
    );
  }
  if (!data) return <Waiting what="the next picture" />;
  const { card, progress } = data;
  if (!card) {
    return (
      <div className="page score-end">
        {back}
        <h1>
          {progress.locked
            ? 'Your readings are locked'
            : progress.of === 0
              ? 'Nothing for you yet'
              : 'All is read'}
        </h1>
        <p className="lead">
          {progress.locked
            ? 'Nobody can change them. When everybody has locked, the key can be opened.'
            : progress.of === 0
              ? 'Both scorers lock first; then you see the pictures on which they disagree.'
              : `${many(progress.of, 'reading')} are kept. Until you lock you may go back and change one; after it nobody can.`}
        </p>
        {!progress.locked && progress.of > 0 ? (
          <p className="sheet-deeds">
            <button
              type="button"
              className="button primary"
              disabled={lock.isPending}
              onClick={() => lock.mutate()}
            >
              Lock my readings
            </button>
            <button type="button" className="button" onClick={() => setPlace(progress.of)}>
              Go back
            </button>
          </p>
        ) : null}
        {lock.error ? (
          <p role="alert" className="sheet-problem">
            {lock.error.message}
          </p>
        ) : null}
      </div>
    );
  }
  return (
    <div className="score">
      <header className="score-head">
        {back}
        <h1>
          <span>
            {card.place} of {card.of}
          </span>
        </h1>
        <progress
          max={progress.of}
          value={progress.done}
          aria-label={`${progress.done} of ${progress.of} read`}
        />
      </header>
      <Scored
        key={`${card.code} ${card.pass}`}
        round={round}
        card={card}
        nextCode={data.next_code}
        onRead={() => {
          // How far each round is read stands in the list that they go back to.
          void client.invalidateQueries({ queryKey: studiesQuery.queryKey });
          if (place === null) void refetch();
          else setPlace(card.place < card.of ? card.place + 1 : null);
        }}
        onBack={card.place > 1 ? () => setPlace(card.place - 1) : null}
      />
    </div>
  );
}

function Scored({
  round,
  card,
  nextCode,
  onRead,
  onBack,
}: {
  round: string;
  card: Card;
  nextCode: string | null;
  onRead: () => void;
  onBack: (() => void) | null;
}) {
  const [called, setCalled] = useState<Called | null>(card.before?.called ?? null);
  const [guess, setGuess] = useState<Guess | null>(card.before?.guess ?? null);
  const [points, setPoints] = useState<readonly Point[]>(card.before?.points ?? []);
  const sent = useRef(false);
  const keep = useMutation({
    mutationFn: (given: { called: Called | null; guess: Guess | null; points: readonly Point[] | null }) =>
      heard(
        ask(
          'readCard',
          { round },
          {
            code: card.code,
            pass: card.pass,
            called: given.called,
            guess: given.guess,
            points: given.points && [...given.points],
          },
        ),
      ),
    onSuccess: onRead,
    onError: () => {
      sent.current = false;
    },
  });
  const field = card.what === 'fields';
  const tell = (now: Called | null, guessed: Guess | null) => {
    setCalled(now);
    setGuess(guessed);
    if ((now === null && !field) || (card.guess && guessed === null) || sent.current) return;
    sent.current = true;
    keep.mutate({ called: field ? null : now, guess: guessed, points: field ? points : null });
  };
  useEffect(() => {
    if (nextCode !== null) new Image().src = addressOf('blindPicture', { round, code: nextCode });
  }, [round, nextCode]);
  useKeys([
    ['p', () => !field && tell('plastic', guess)],
    ['o', () => !field && tell('other', guess)],
    ['c', () => !field && tell('cannot-tell', guess)],
    ['1', () => card.guess && tell(called, 'specimen')],
    ['2', () => card.guess && tell(called, 'control')],
    ['Enter', () => field && tell(null, guess)],
    ['ArrowLeft', () => onBack?.()],
  ]);
  return (
    <div className="score-body">
      <figure className="score-picture">
        <BlindPicture round={round} card={card} points={points} onPoints={setPoints} />
        <figcaption>
          {card.code}
          {card.width_um === null ? '' : `, ${lengthWords(card.width_um)} across`}
        </figcaption>
      </figure>
      <div className="score-deeds">
        {field ? (
          <p>
            Draw over every piece that counts, from end to end, or tap it. Tap again for “cannot tell”, once
            more to take it away. {many(points.length, 'piece')} so far.
          </p>
        ) : (
          <fieldset className="call-buttons">
            <legend>What is it?</legend>
            <CallButtons chosen={called} onCall={(one) => tell(one, guess)} />
          </fieldset>
        )}
        {card.guess ? (
          <fieldset className="call-buttons guess-buttons">
            <legend>And a guess: where is it from?</legend>
            {(['specimen', 'control'] as const).map((one, at) => (
              <button
                key={one}
                type="button"
                className="button call"
                aria-pressed={guess === one}
                onClick={() => tell(called, one)}
              >
                {one === 'specimen' ? 'A run on the product' : 'A control'} <kbd>{at + 1}</kbd>
              </button>
            ))}
          </fieldset>
        ) : null}
        {field ? (
          <button type="button" className="button primary" onClick={() => tell(null, guess)}>
            {points.length === 0 ? 'None here' : 'These are all'} <kbd>Enter</kbd>
          </button>
        ) : null}
        {onBack ? (
          <button type="button" className="button quiet" onClick={onBack}>
            Back <kbd>←</kbd>
          </button>
        ) : null}
        {keep.error ? (
          <p role="alert" className="sheet-problem">
            {keep.error.message}
          </p>
        ) : null}
      </div>
    </div>
  );
}
