import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useMemo, useState } from 'react';
import type { KnownSetJson } from '../../api/index.ts';
import { BENCH_TESTS } from '../../bench/index.ts';
import { CLASS_WORDS } from '../../study/index.ts';
import { many } from '../look/words.ts';
import { ParticlePicture } from '../looking/particle-picture.tsx';
import { useKeys } from '../looking/use-keys.ts';
import { ask } from '../server/ask.ts';
import { heard } from '../server/queries.ts';
import { useKnownPhotos } from './known-photos.ts';

type Called = 'plastic' | 'other' | 'cannot-tell';
export const CALL_WORDS: Readonly<Record<Called, string>> = {
  plastic: 'Plastic',
  other: 'Not plastic',
  'cannot-tell': 'Cannot tell',
};

/** The same things in another order, by chance. */
export function mixed<T>(things: readonly T[]): readonly T[] {
  const order = things.map((thing) => ({ thing, at: Math.random() }));
  return order.sort((a, b) => a.at - b.at).map(({ thing }) => thing);
}

/** One set: what is in it, and a drill on it, piece after piece in mixed order. */
export function RunDrill({ study, set }: { study: string; set: KnownSetJson }) {
  const [running, setRunning] = useState(false);
  const [test, setTest] = useState('by-eye');
  const classes = [...new Set(set.pieces.map((piece) => piece.class))];
  return (
    <section className="sheet drill-set" aria-label={set.name}>
      <h2>{set.name}</h2>
      {running ? null : (
        <p className="sheet-lead">
          {many(set.pieces.length, 'known piece')}:{' '}
          {classes.map((one) => CLASS_WORDS[one].replace(/ \(.*\)/, '')).join(', ')}. {set.made}
        </p>
      )}
      {running ? null : <LayingList set={set} />}
      {running ? (
        <Running study={study} set={set} test={test} onEnd={() => setRunning(false)} />
      ) : (
        <div className="sheet-deeds">
          <label>
            Score them{' '}
            <select value={test} onChange={(event) => setTest(event.currentTarget.value)}>
              <option value="by-eye">by eye</option>
              {BENCH_TESTS.map((one) => (
                <option key={one.id} value={one.id}>
                  by {one.name.toLowerCase()}
                </option>
              ))}
            </select>
          </label>
          <button type="button" className="button primary" onClick={() => setRunning(true)}>
            Begin
          </button>
        </div>
      )}
    </section>
  );
}

/** Which piece lies in which well: for the one who lays them out. */
function LayingList({ set }: { set: KnownSetJson }) {
  const wells = set.pieces.filter((piece) => piece.particle === null);
  if (wells.length === 0) return null;
  return (
    <details>
      <summary>Which piece lies in which well (not for those who score)</summary>
      <ol className="laying-list">
        {wells.map((piece) => (
          <li key={piece.key}>
            <strong>{piece.key}</strong> {piece.material}
          </li>
        ))}
      </ol>
    </details>
  );
}

function Running({
  study,
  set,
  test,
  onEnd,
}: {
  study: string;
  set: KnownSetJson;
  test: string;
  onEnd: () => void;
}) {
  const client = useQueryClient();
  const order = useMemo(() => mixed(set.pieces.map((piece) => piece.key)), [set]);
  const [calls, setCalls] = useState<readonly Called[]>([]);
  const key = order[calls.length];
  const { pieces } = useKnownPhotos(study);
  const picture = pieces.get(set.pieces.find((piece) => piece.key === key)?.particle ?? '');
  const record = useMutation({
    mutationFn: () =>
      heard(
        ask(
          'answerDrill',
          { set: set.id },
          { test, answers: calls.map((called, at) => ({ piece: order[at]!, called })) },
        ),
      ),
    onSuccess: () => {
      void client.invalidateQueries({ queryKey: ['study', study] });
      onEnd();
    },
  });
  const call = (called: Called) => {
    if (key !== undefined) setCalls([...calls, called]);
  };
  useKeys([
    ['p', () => call('plastic')],
    ['o', () => call('other')],
    ['c', () => call('cannot-tell')],
    ['ArrowLeft', () => setCalls(calls.slice(0, -1))],
  ]);
  return (
    <div className="drill-running">
      {key === undefined ? (
        <>
          <p>All {order.length} are called.</p>
          <div className="sheet-deeds">
            <button
              type="button"
              className="button primary"
              disabled={record.isPending}
              onClick={() => record.mutate()}
            >
              Record the drill
            </button>
            <button type="button" className="button" onClick={() => setCalls(calls.slice(0, -1))}>
              Back
            </button>
          </div>
        </>
      ) : (
        <>
          <p className="drill-at">
            {picture ? (
              <ParticlePicture photo={picture.photo} particle={picture.particle} side={260} />
            ) : (
              <strong>well {key}</strong>
            )}{' '}
            <span>
              {calls.length + 1} of {order.length}
            </span>
          </p>
          <div className="call-buttons">
            <CallButtons onCall={call} />
          </div>
          <div className="sheet-deeds">
            <button
              type="button"
              className="button quiet"
              disabled={calls.length === 0}
              onClick={() => setCalls(calls.slice(0, -1))}
            >
              Back <kbd>←</kbd>
            </button>
            <button type="button" className="button quiet" onClick={onEnd}>
              Stop without recording
            </button>
          </div>
        </>
      )}
      {record.error ? (
        <p role="alert" className="sheet-problem">
          {record.error.message}
        </p>
      ) : null}
    </div>
  );
}

export function CallButtons({
  onCall,
  chosen = null,
}: {
  onCall: (called: Called) => void;
  chosen?: Called | null;
}) {
  return (
    <>
      {(['plastic', 'other', 'cannot-tell'] as const).map((called) => (
        <button
          key={called}
          type="button"
          className={`button call is-${called}`}
          aria-pressed={chosen === called}
          onClick={() => onCall(called)}
        >
          {CALL_WORDS[called]} <kbd>{called === 'plastic' ? 'P' : called === 'other' ? 'O' : 'C'}</kbd>
        </button>
      ))}
    </>
  );
}
