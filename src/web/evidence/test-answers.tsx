import { useState } from 'react';
import { type AnswerForm, type BenchTest, NO_RESULTS } from '../../bench/index.ts';
import { NumberField, typedNumber } from '../look/fields.tsx';
import { AttachSpectrum } from './spectra-attach.tsx';

interface TestAnswersProps {
  readonly study: string;
  readonly particle: string;
  readonly test: BenchTest;
  readonly busy: boolean;
  readonly problem: string | null;
  readonly onAnswer: (value: string | number) => void;
  /** The file of a spectrum was brought in and has given its answer. */
  readonly onSpectrum: () => void;
}

/** What a test ended with, in the form that the test declares, and the ends that are no result. */
export function TestAnswers({
  study,
  particle,
  test,
  busy,
  problem,
  onAnswer,
  onSpectrum,
}: TestAnswersProps) {
  return (
    <section aria-label="What happened" className="test-answers">
      <h1>{test.asks}</h1>
      {test.answer.kind === 'spectrum' ? (
        <>
          <AttachSpectrum study={study} particle={particle} onDone={onSpectrum} />
          <NamedMaterial busy={busy} onAnswer={onAnswer} />
        </>
      ) : test.answer.kind === 'quantity' ? (
        <QuantityAnswer form={test.answer} busy={busy} onAnswer={onAnswer} />
      ) : (
        choices(test.answer).map(({ value, words }) => (
          <button
            key={value}
            type="button"
            className="button answer"
            disabled={busy}
            onClick={() => onAnswer(value)}
          >
            {words}
          </button>
        ))
      )}
      <p className="test-none">No result? None of these speaks for or against anything.</p>
      {NO_RESULTS.map(({ value, words }) => (
        <button
          key={value}
          type="button"
          className="button quiet answer"
          disabled={busy}
          onClick={() => onAnswer(value)}
        >
          {words}
        </button>
      ))}
      {problem ? (
        <p role="alert" className="sheet-problem">
          {problem}
        </p>
      ) : null}
    </section>
  );
}

function choices(form: AnswerForm): readonly { value: string; words: string }[] {
  if (form.kind === 'one-of') return form.choices;
  if (form.kind === 'yes-no') {
    return [
      { value: 'yes', words: form.yes },
      { value: 'no', words: form.no },
    ];
  }
  return [];
}

function NamedMaterial({ busy, onAnswer }: { busy: boolean; onAnswer: (value: string) => void }) {
  const [named, setNamed] = useState('');
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        onAnswer(named);
      }}
    >
      <label>
        Material
        <input
          value={named}
          onChange={(event) => setNamed(event.currentTarget.value)}
          placeholder="polyethylene"
        />
      </label>
      <button type="submit" className="button primary" disabled={busy || named.trim() === ''}>
        Record
      </button>
      <button type="button" className="button" disabled={busy} onClick={() => onAnswer('cannot-tell')}>
        Cannot tell
      </button>
    </form>
  );
}

/** A measured answer: a number with the unit and the bounds that the test declares. */
export function QuantityAnswer({
  form,
  busy,
  onAnswer,
}: {
  form: Extract<AnswerForm, { kind: 'quantity' }>;
  busy: boolean;
  onAnswer: (value: number) => void;
}) {
  const [typed, setTyped] = useState('');
  const value = typedNumber(typed);
  const fits = typeof value === 'number' && value >= form.from && value <= form.to;
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        if (fits) onAnswer(value);
      }}
    >
      <NumberField
        label={form.what}
        unit={form.unit}
        value={typed}
        set={setTyped}
        hint={`From ${form.from} to ${form.to} ${form.unit}.`}
      />
      <button type="submit" className="button primary" disabled={busy || !fits}>
        Record
      </button>
    </form>
  );
}
