import { useState } from 'react';
import {
  impossibleStep,
  kindOf,
  type SheetStep,
  STEP_KINDS,
  type Step,
  type Touches,
} from '../../study/index.ts';
import { Field, NumberField, typedNumber } from '../look/fields.tsx';
import { BenchForm } from './bench-form.tsx';
import { CoverageNow } from './coverage-now.tsx';
import { unitOf } from './finish-form.tsx';
import type { Bench } from './use-bench.ts';
import { TOUCH_CALLED } from './words.ts';

/** What is put in most often at a bench; the rest of the kinds follow in a list. */
const OFTEN = ['rinse', 'uncover', 'move', 'shake', 'wash', 'filter'];

/** “I did it otherwise”: left out and put in by the second tap, changed by its form. The comparison answers at once. */
export function Otherwise({ line, bench, onClose }: { line: SheetStep; bench: Bench; onClose: () => void }) {
  const { step } = line;
  const [is, setIs] = useState<'asking' | 'changed' | 'recorded'>('asking');
  const says = kindOf(step)?.says ?? step.kind;
  if (is === 'recorded') {
    return (
      <div className="bench-form">
        <p className="bench-recorded" role="status">
          Recorded. The run is compared with its controls anew:
        </p>
        <CoverageNow bench={bench} />
        <div className="bench-deeds">
          <button type="button" className="button primary huge" onClick={onClose}>
            Go on
          </button>
        </div>
      </div>
    );
  }
  if (is === 'changed')
    return <Changed line={line} bench={bench} onDone={() => setIs('recorded')} onClose={onClose} />;
  // A step that was itself put in has no place in the edition: what follows it is put in after the step before.
  const after = line.planned === null ? anchor(line, bench) : step.key;
  const putIn = (kind: string) => {
    const called = STEP_KINDS.find((one) => one.kind === kind)?.says ?? kind;
    bench.deed({
      do: 'otherwise',
      step: after,
      kind: 'put-in',
      as_done: blank(kind, freeKey(kind, bench), step.touches),
      what: `${called} put in after “${step.key}”`,
      why: '',
    });
    setIs('recorded');
  };
  return (
    <div className="bench-form">
      <div className="bench-deeds">
        {line.planned === null ? null : (
          <>
            <button
              type="button"
              className="button huge"
              onClick={() => {
                bench.deed({
                  do: 'otherwise',
                  step: step.key,
                  kind: 'left-out',
                  as_done: null,
                  what: `${says} (“${step.key}”) left out`,
                  why: '',
                });
                setIs('recorded');
              }}
            >
              Left out
            </button>
            <button type="button" className="button huge" onClick={() => setIs('changed')}>
              Changed
            </button>
          </>
        )}
      </div>
      <fieldset className="bench-chips">
        <legend>Put in after this</legend>
        {OFTEN.map((kind) => (
          <button key={kind} type="button" className="button" onClick={() => putIn(kind)}>
            {STEP_KINDS.find((one) => one.kind === kind)!.says}
          </button>
        ))}
        <select
          aria-label="Put in another kind of step"
          value=""
          onChange={(event) => putIn(event.currentTarget.value)}
        >
          <option value="" disabled>
            Another …
          </option>
          {STEP_KINDS.filter(({ kind }) => !OFTEN.includes(kind)).map(({ kind, says: called }) => (
            <option key={kind} value={kind}>
              {called}
            </option>
          ))}
        </select>
      </fieldset>
      <div className="bench-deeds">
        <button type="button" className="button huge" onClick={onClose}>
          As planned after all
        </button>
      </div>
    </div>
  );
}

function anchor(line: SheetStep, bench: Bench): string | null {
  const { steps } = bench.here.sheet;
  const before = steps.slice(0, steps.indexOf(line)).reverse();
  return before.find((one) => one.planned !== null && one.otherwise !== 'left-out')?.step.key ?? null;
}

/** “rinse”, or “rinse-2” where the run has a rinse already. */
function freeKey(kind: string, bench: Bench): string {
  const taken = new Set(bench.here.sheet.steps.map((line) => line.step.key));
  for (let n = 1; ; n++) {
    const key = n === 1 ? kind : `${kind}-${n}`;
    if (!taken.has(key)) return key;
  }
}

const blank = (kind: string, key: string, beside: Touches): Step => ({
  key,
  kind,
  quantities: {},
  touches: {
    vessel: beside.vessel,
    tool: null,
    liquid: null,
    reagentLot: null,
    place: beside.place,
    person: beside.person,
    filterLot: null,
    optics: null,
  },
  minutesUncovered: null,
  openings: null,
  note: '',
});

function Changed({
  line,
  bench,
  onDone,
  onClose,
}: {
  line: SheetStep;
  bench: Bench;
  onDone: () => void;
  onClose: () => void;
}) {
  const { step } = line;
  const kind = kindOf(step);
  const touches = kind?.touches ?? [];
  const asked = kind?.quantities ?? [];
  const [touched, setTouched] = useState<Record<string, string>>(() =>
    Object.fromEntries(touches.map((what) => [what, step.touches[what] ?? ''])),
  );
  const [amounts, setAmounts] = useState<Record<string, string>>(() =>
    Object.fromEntries(
      asked.map(({ name }) => [name, name in step.quantities ? String(step.quantities[name]) : '']),
    ),
  );
  const [why, setWhy] = useState('');
  const [problem, setProblem] = useState<string | null>(null);
  const submit = () => {
    const made = changedStep(step, touched, amounts, asked);
    if (typeof made === 'string') return setProblem(made);
    if (made.what === '') return setProblem('Nothing is changed yet: write what was taken or done instead.');
    bench.deed({
      do: 'otherwise',
      step: step.key,
      kind: 'changed',
      as_done: made.step,
      what: `“${step.key}”: ${made.what}`,
      why,
    });
    onDone();
  };
  return (
    <BenchForm label="What was changed" keep="Record it" problem={problem} onKeep={submit} onLeave={onClose}>
      {touches.map((what) => (
        <Field
          key={what}
          label={TOUCH_CALLED[what]}
          value={touched[what] ?? ''}
          set={(value) => setTouched((now) => ({ ...now, [what]: value }))}
        />
      ))}
      {asked.map(({ name, label }) => (
        <NumberField
          key={name}
          label={label.charAt(0).toUpperCase() + label.slice(1)}
          value={amounts[name] ?? ''}
          set={(value) => setAmounts((now) => ({ ...now, [name]: value }))}
          unit={unitOf(name)}
        />
      ))}
      <Field label="Why" value={why} set={setWhy} wide hint="May be left empty and said later." />
    </BenchForm>
  );
}

/** The step with what was typed, and what that changes in words; or a sentence on what can't be read. */
export function changedStep(
  step: Step,
  touched: Readonly<Record<string, string>>,
  amounts: Readonly<Record<string, string>>,
  asked: readonly { readonly name: string; readonly label: string }[],
): { readonly step: Step; readonly what: string } | string {
  const changes: string[] = [];
  const touches: Record<keyof Touches, string | null> = { ...step.touches };
  for (const [what, value] of Object.entries(touched) as [keyof Touches, string][]) {
    const now = value.trim() === '' ? null : value.trim();
    if (now === step.touches[what]) continue;
    touches[what] = now;
    const called = TOUCH_CALLED[what].toLowerCase();
    changes.push(now === null ? `${called} not said` : `${called} ${now}`);
  }
  const quantities: Record<string, number> = { ...step.quantities };
  for (const { name, label } of asked) {
    const text = (amounts[name] ?? '').trim();
    if (text === '') {
      if (name in quantities) {
        delete quantities[name];
        changes.push(`${label} not said`);
      }
      continue;
    }
    const amount = typedNumber(text);
    if (amount === null) return `${label}: a number is needed, or nothing.`;
    if (amount === quantities[name]) continue;
    quantities[name] = amount;
    changes.push(`${label} ${amount} ${unitOf(name)}`);
  }
  const made = { ...step, touches, quantities };
  return impossibleStep(made)?.message ?? { step: made, what: changes.join(', ') };
}
