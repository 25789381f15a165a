import { useState } from 'react';
import { type SheetStep, uncoveredProblem } from '../../study/index.ts';
import { NumberField, typedNumber } from '../look/fields.tsx';
import { many } from '../look/words.ts';
import { BenchForm } from './bench-form.tsx';
import { type Bench, clockWords, useNow } from './use-bench.ts';

/** How long the vessel stood open: timed by two taps, or typed. */
export function Exposure({ line, bench }: { line: SheetStep; bench: Bench }) {
  const { step, uncovered } = line;
  const open = uncovered.openSince !== null;
  const now = useNow(open);
  const [typing, setTyping] = useState(false);
  const said =
    uncovered.minutes === null
      ? 'minutes uncovered not said'
      : `${clockWords(uncovered.minutes * 60)} uncovered ${
          uncovered.from === 'planned'
            ? 'as planned'
            : uncovered.from === 'typed'
              ? 'as typed'
              : 'by the clock'
        }${uncovered.openings ? `, opened ${many(uncovered.openings, 'time')}` : ''}`;
  return (
    <div className={`bench-open ${open ? 'is-uncovered' : ''}`}>
      <p>
        {open ? (
          <>
            Stands open for <strong>{clockWords((now - Date.parse(uncovered.openSince!)) / 1000)}</strong>
          </>
        ) : (
          said
        )}
      </p>
      {typing ? (
        <ExposureForm line={line} bench={bench} onClose={() => setTyping(false)} />
      ) : (
        <div className="bench-deeds">
          <button
            type="button"
            className="button huge"
            onClick={() => bench.deed({ do: open ? 'cover' : 'uncover', step: step.key })}
          >
            {open ? 'Cover' : 'Uncover'}
          </button>
          <button type="button" className="button huge" onClick={() => setTyping(true)}>
            Type minutes
          </button>
        </div>
      )}
    </div>
  );
}

function ExposureForm({ line, bench, onClose }: { line: SheetStep; bench: Bench; onClose: () => void }) {
  const { uncovered, step } = line;
  const [minutes, setMinutes] = useState(
    uncovered.minutes === null ? '' : String(Math.round(uncovered.minutes * 10) / 10),
  );
  const [openings, setOpenings] = useState(uncovered.openings === null ? '' : String(uncovered.openings));
  const [problem, setProblem] = useState<string | null>(null);
  const submit = () => {
    const time = typedNumber(minutes);
    const times = openings.trim() === '' ? null : typedNumber(openings);
    if (time === null || time < 0) return setProblem('Minutes: a number from 0 is needed.');
    if (times !== null && !(times >= 0 && Number.isInteger(times)))
      return setProblem('Openings: a whole number from 0 is needed, or nothing.');
    const cannotBe = uncoveredProblem(step.key, time);
    if (cannotBe) return setProblem(cannotBe.message);
    bench.deed({ do: 'exposure', step: step.key, minutes: time, openings: times });
    onClose();
  };
  return (
    <BenchForm label="Minutes uncovered" keep="Keep it" problem={problem} onKeep={submit} onLeave={onClose}>
      <NumberField label="Minutes uncovered" value={minutes} set={setMinutes} unit="min" />
      <NumberField label="Openings" value={openings} set={setOpenings} unit="times" />
    </BenchForm>
  );
}
