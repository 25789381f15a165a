import { useState } from 'react';
import { kindOf, type SheetStep, type Touches } from '../../study/index.ts';
import { Icon } from '../look/icons.tsx';
import { StepPicture } from '../procedure/step-picture.tsx';
import { Exposure } from './exposure.tsx';
import { Filtration } from './filtration.tsx';
import { FinishForm } from './finish-form.tsx';
import { Otherwise } from './otherwise.tsx';
import { SafetyHere } from './safety-here.tsx';
import { SetupPhotos } from './setup-photos.tsx';
import { type Bench, clockWords, useNow } from './use-bench.ts';
import { amountsOf, TOUCH_CALLED } from './words.ts';

interface StepCardProps {
  readonly line: SheetStep;
  readonly number: number | null;
  readonly open: boolean;
  readonly onOpen: () => void;
  readonly onDone: () => void;
  readonly bench: Bench;
}

/** One step: a line of the sheet, and opened the whole of it with its taps. */
export function StepCard({ line, number, open, onOpen, onDone, bench }: StepCardProps) {
  const { step, state, otherwise } = line;
  const says = kindOf(step)?.says ?? step.kind;
  return (
    <li className={`bench-step is-${state} is-${otherwise} ${open ? 'is-open' : ''}`}>
      <h2>
        <button type="button" className="bench-line" aria-expanded={open} onClick={onOpen}>
          <span className="bench-number">
            {otherwise === 'left-out' ? '–' : state === 'done' ? <Icon name="keep" size={22} /> : number}
          </span>
          <span className="bench-says">
            {says} <span className="bench-amounts">{amountsOf(step, line.quantities)}</span>
            <StateWords line={line} />
          </span>
          <StepPicture kind={step.kind} size={40} />
        </button>
      </h2>
      {open ? <Opened line={line} bench={bench} onDone={onDone} /> : null}
    </li>
  );
}

function StateWords({ line }: { line: SheetStep }) {
  const { state, otherwise, minutes, finishedAt } = line;
  const how = { 'as-planned': '', changed: 'done otherwise', 'left-out': 'left out', 'put-in': 'put in' }[
    otherwise
  ];
  const when =
    otherwise === 'left-out'
      ? ''
      : state === 'done'
        ? `done${finishedAt ? ` ${timeWords(finishedAt)}` : ''}${minutes === null ? '' : `, took ${clockWords(minutes * 60)}`}`
        : state === 'under-way'
          ? 'under way'
          : '';
  const words = [how, when].filter(Boolean).join(' · ');
  return words ? <small>{words}</small> : null;
}

const timeWords = (at: string): string =>
  new Date(at).toLocaleTimeString([], { hour: '2-digit', minute: '2-digit' });

function Opened({ line, bench, onDone }: Pick<StepCardProps, 'line' | 'bench' | 'onDone'>) {
  const { step, state, otherwise } = line;
  const [asking, setAsking] = useState<'nothing' | 'finish' | 'otherwise'>('nothing');
  if (otherwise === 'left-out') {
    return (
      <div className="bench-body">
        <p>
          Left out of this run. Undo it below, or put the step in again under “Otherwise” of the step before.
        </p>
      </div>
    );
  }
  const touched = (Object.keys(TOUCH_CALLED) as (keyof Touches)[]).filter(
    (what) => step.touches[what] !== null,
  );
  const filtered = bench.here.fractions.some((one) => one.kind === 'passed' || one.kind === 'remainder');
  const finish = (quantities: Readonly<Record<string, number>>) => {
    bench.deed({ do: 'finish', step: step.key, quantities });
    setAsking('nothing');
    onDone();
  };
  return (
    <div className="bench-body">
      {touched.length > 0 ? (
        <dl className="bench-touches">
          {touched.map((what) => (
            <div key={what}>
              <dt>{TOUCH_CALLED[what]}</dt>
              <dd>{step.touches[what]}</dd>
            </div>
          ))}
        </dl>
      ) : null}
      {step.note ? <p className="bench-note">{step.note}</p> : null}
      <SafetyHere step={step} stops={bench.here.stops} />
      {state === 'under-way' ? <Timer line={line} /> : null}
      {step.kind === 'filter' && state !== 'to-do' ? (
        <Filtration line={line} bench={bench} onEnd={() => setAsking('finish')} />
      ) : null}
      {asking === 'finish' ? (
        <FinishForm line={line} onFinish={finish} onClose={() => setAsking('nothing')} />
      ) : asking === 'otherwise' ? (
        <Otherwise line={line} bench={bench} onClose={() => setAsking('nothing')} />
      ) : (
        <div className="bench-deeds">
          {state === 'under-way' ? (
            <button
              type="button"
              className={`button huge ${step.kind === 'filter' && !filtered ? '' : 'primary'}`}
              onClick={() => (Object.keys(step.quantities).length === 0 ? finish({}) : setAsking('finish'))}
            >
              Done
            </button>
          ) : (
            <button
              type="button"
              className={`button huge ${state === 'to-do' ? 'primary' : ''}`}
              onClick={() => bench.deed({ do: 'start', step: step.key })}
            >
              {state === 'done' ? 'Do it once more' : 'Start'}
            </button>
          )}
          <button type="button" className="button huge" onClick={() => setAsking('otherwise')}>
            Otherwise
          </button>
        </div>
      )}
      <Exposure line={line} bench={bench} />
      <SetupPhotos bench={bench} step={step.key} />
    </div>
  );
}

/** The start is stored, so the timer goes on through a reload and a dead battery. */
function Timer({ line }: { line: SheetStep }) {
  const now = useNow(true);
  const passed = (now - Date.parse(line.startedAt!)) / 1000;
  const wanted = line.step.quantities.minutes;
  const left = wanted === undefined ? null : wanted * 60 - passed;
  return (
    <p className={`bench-timer ${left !== null && left < 0 ? 'is-over' : ''}`} role="timer">
      <strong>{clockWords(left === null ? passed : Math.abs(left))}</strong>
      <span>
        {left === null
          ? 'since the start'
          : left >= 0
            ? `left of ${clockWords(wanted! * 60)}`
            : `over ${clockWords(wanted! * 60)}`}
      </span>
    </p>
  );
}
