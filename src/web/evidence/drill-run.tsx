import { useQueryClient } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import type { KnownSetJson } from '../../api/index.ts';
import { BENCH_TESTS } from '../../bench/index.ts';
import { CLASS_WORDS } from '../../study/index.ts';
import { many } from '../look/words.ts';
import { ParticlePicture } from '../looking/particle-picture.tsx';
import { useKeys } from '../looking/use-keys.ts';
import { useWorking } from '../server/working.ts';
import {
  back,
  beginDrill,
  type Called,
  call,
  callsOf,
  type Drill,
  drillKey,
  endDrill,
  send,
  useDrill,
} from './drill-box.ts';
import { useKnownPhotos } from './known-photos.ts';

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
  const at = drillKey(set.id, useWorking());
  const drill = useDrill(at);
  const [open, setOpen] = useState(false);
  const [test, setTest] = useState('by-eye');
  const running = open && drill !== null;
  const begun = drill === null ? 0 : callsOf(drill).length;
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
        <Running set={set} drill={drill} at={at} onEnd={() => setOpen(false)} />
      ) : drill ? (
        <div className="sheet-deeds">
          <p>
            A drill is under way: {begun} of {drill.order.length} called.
          </p>
          <button type="button" className="button primary" onClick={() => setOpen(true)}>
            Go on
          </button>
        </div>
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
          <button
            type="button"
            className="button primary"
            onClick={() => {
              beginDrill(at, {
                study,
                set: set.id,
                test,
                order: mixed(set.pieces.map((piece) => piece.key)),
              });
              setOpen(true);
            }}
          >
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

/** Piece after piece; each answer is kept as it is given. */
function Running({
  set,
  drill,
  at,
  onEnd,
}: {
  set: KnownSetJson;
  drill: Drill;
  at: string;
  onEnd: () => void;
}) {
  const client = useQueryClient();
  const { study, order } = drill;
  const calls = callsOf(drill);
  const key = order[calls.length];
  const { pieces } = useKnownPhotos(study);
  const picture = pieces.get(set.pieces.find((piece) => piece.key === key)?.particle ?? '');
  const waits = drill.deeds.length - drill.sent;
  const called = (one: Called) => {
    if (key !== undefined) call(at, key, one);
  };
  const end = () => {
    if (!endDrill(at)) return;
    void client.invalidateQueries({ queryKey: ['study', study] });
    onEnd();
  };
  useEffect(() => {
    void send(at);
  }, [at]);
  useKeys([
    ['p', () => called('plastic')],
    ['o', () => called('other')],
    ['c', () => called('cannot-tell')],
    ['ArrowLeft', () => back(at)],
  ]);
  return (
    <div className="drill-running">
      {key === undefined ? (
        <p>All {order.length} are called.</p>
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
            <CallButtons onCall={called} />
          </div>
        </>
      )}
      <div className="sheet-deeds">
        <button
          type="button"
          className={key === undefined ? 'button primary' : 'button quiet'}
          disabled={waits > 0}
          onClick={end}
        >
          {key === undefined ? 'End the drill' : 'Stop here'}
        </button>
        <button type="button" className="button quiet" disabled={calls.length === 0} onClick={() => back(at)}>
          Back <kbd>←</kbd>
        </button>
      </div>
      <p className="fine" role="status">
        {waits > 0
          ? `${many(waits, 'answer')} ${waits === 1 ? 'waits' : 'wait'} on this device until the laboratory has ${waits === 1 ? 'it' : 'them'}.`
          : 'Each answer is kept as it is given, and counts even if you stop; a drill that was spoilt is taken back below.'}
      </p>
      {drill.problem ? (
        <p role="alert" className="sheet-problem">
          {drill.problem}
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
