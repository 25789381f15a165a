import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { MATRIX_FACTS, REAGENT_FACTS } from '../../science/digestion/index.ts';
import {
  type Changed,
  FIRST_BACKGROUND,
  leftOpen,
  type PlanAnswers,
  type Choice as Proposed,
  SAFETY_QUESTIONS,
  type SafetyField,
  type StudyPlan,
} from '../../study/index.ts';
import { Choice, Field, NumberField } from '../look/fields.tsx';
import { Section } from '../look/parts.tsx';
import { KIND_WORDS, many } from '../look/words.ts';
import { StepPicture } from '../procedure/step-picture.tsx';
import { ask } from '../server/ask.ts';
import { heard } from '../server/queries.ts';
import { answersJson } from './answers-json.ts';
import { changedWith } from './ten-questions.tsx';

/** The plan that the answers make, with a reason for everything and a way to have it otherwise. */
export function PlanSheet({
  plan,
  answers,
  change,
  answerSafety,
}: {
  plan: StudyPlan;
  answers: PlanAnswers;
  change: (changed: Changed) => void;
  answerSafety: (field: SafetyField, text: string) => void;
}) {
  return (
    <>
      {plan.short.map((sentence) => (
        <p key={sentence} className="warned reading">
          {sentence}
        </p>
      ))}
      <Section title="The runs, in their order" lead={plan.hours.sentence}>
        <Sittings plan={plan} />
      </Section>
      <Section title="What it may find">
        <Limits answers={answers} change={change} />
      </Section>
      <Section title="Proposed, and why" lead="Everything can be had otherwise.">
        <ul className="proposals">
          {plan.choices.map((choice) => (
            <Proposal key={choice.key} choice={choice} answers={answers} change={change} />
          ))}
        </ul>
      </Section>
      <Section
        title="Which control is for what"
        lead={`Particles can come from ${plan.causes.map(leftOpen).join(', ')}. This is the smallest set of controls that gives each of them a pattern of its own.`}
      >
        <ul className="controls">
          {plan.controls.map(({ candidate, number, buys }) => (
            <li key={candidate.name}>
              <span className="control-name">{candidate.called}</span>
              <span className="control-shows">{candidate.how}</span>
              <span>
                <strong>{number} ×</strong> {buys}
              </span>
            </li>
          ))}
        </ul>
        {plan.controlSet.together.length > 0 ? (
          <p className="fine">
            No control tells apart:{' '}
            {plan.controlSet.together.map(([a, b]) => `${leftOpen(a)} and ${leftOpen(b)}`).join('; ')}.
          </p>
        ) : null}
        <List title="Beside the controls" lines={plan.alsoDo} />
      </Section>
      <Section title="The steps of a run">
        <ol className="plan-steps">
          {plan.procedures[0]!.steps.map((step) => (
            <li key={step.key}>
              <StepPicture kind={step.kind} size={34} />
              <span>{step.key}</span>
            </li>
          ))}
        </ol>
        <p className="fine">
          {plan.filters.sentence} Each control has its own steps; all can be changed later.
        </p>
      </Section>
      <div className="two">
        <List title="To have in the house" lines={plan.shopping} />
        <List title="Before every sitting" lines={plan.cleaning} />
      </div>
      <Section title="Safety" lead={plan.gate.sentence}>
        <ul className="cautions">
          {plan.gate.stops.map((stop) => (
            <li key={stop.message} className="warned">
              <strong>Stop.</strong> {stop.message}
            </li>
          ))}
          {plan.cautions.map((caution) => (
            <li key={caution}>{caution}</li>
          ))}
        </ul>
        {plan.gate.asked.length > 0 ? (
          <div className="fields">
            {plan.gate.asked.map((field) => (
              <Field
                key={field}
                wide
                label={SAFETY_QUESTIONS[field]}
                value={answers.safety[field] ?? ''}
                set={(text) => answerSafety(field, text)}
              />
            ))}
          </div>
        ) : null}
      </Section>
    </>
  );
}

function Sittings({ plan }: { plan: StudyPlan }) {
  const sessions = [...new Set(plan.runs.map((run) => run.session))];
  return (
    <ol className="sittings">
      {sessions.map((session) => (
        <li key={session}>
          <h3>Sitting {session}</h3>
          <ol>
            {plan.runs
              .filter((run) => run.session === session)
              .map((run) => (
                <li key={run.name} className={`sitting-run kind-${run.kind}`} title={run.because}>
                  <span aria-hidden="true" className="sitting-mark" />
                  {run.name}
                  <span className="unseen">
                    {' '}
                    ({run.kind === 'specimen' ? 'specimen run' : KIND_WORDS[run.kind]})
                  </span>
                </li>
              ))}
          </ol>
        </li>
      ))}
    </ol>
  );
}

function Limits({ answers, change }: { answers: PlanAnswers; change: (changed: Changed) => void }) {
  const body = answersJson(answers);
  const [guess, setGuess] = useState(String(answers.changed.background ?? FIRST_BACKGROUND));
  const put = (text: string) => {
    setGuess(text);
    const next = changedWith(answers.changed, 'background', text);
    if (typeof next !== 'string') change(next);
  };
  const { data, error, isFetching } = useQuery({
    queryKey: ['plan-limits', JSON.stringify(body)],
    queryFn: () => heard(ask('planLimits', {}, body)),
    staleTime: Number.POSITIVE_INFINITY,
    placeholderData: (before) => before,
  });
  if (error) return <p className="warned">{error.message}</p>;
  if (!data) return <p className="waiting">Drawing virtual studies …</p>;
  return (
    <>
      <p className="reading" aria-busy={isFetching}>
        {data.sentence}
      </p>
      <p className="fine">{data.assumes}</p>
      <div className="fields">
        <NumberField
          label="Pieces expected on a control"
          value={guess}
          set={put}
          hint="Your guess, or the mean of your first controls."
        />
      </div>
    </>
  );
}

function Proposal({
  choice,
  answers,
  change,
}: {
  choice: Proposed;
  answers: PlanAnswers;
  change: (changed: Changed) => void;
}) {
  const [open, setOpen] = useState(false);
  const [text, setText] = useState('');
  const [problem, setProblem] = useState<string | null>(null);
  const put = (value: string) => {
    setText(value);
    const next = changedWith(answers.changed, choice.key, value);
    if (typeof next === 'string') return setProblem(next);
    setProblem(null);
    change(next);
  };
  return (
    <li>
      <h3>
        {choice.label}: <strong>{choice.shown}</strong>
        {choice.changed ? <small> as you set it</small> : null}
        <button
          type="button"
          className="button quiet inline"
          aria-expanded={open}
          aria-label={`${choice.label}: have it otherwise`}
          onClick={() => setOpen(!open)}
        >
          otherwise
        </button>
      </h3>
      <p className="says">{choice.because}</p>
      {open ? (
        choice.key === 'reagent' ? (
          <Choice
            label="Digestion"
            value={answers.changed.reagent ?? ''}
            set={put}
            options={[
              ['', 'as proposed'],
              ...MATRIX_FACTS[answers.matrix].options.map(
                (reagent) => [reagent, REAGENT_FACTS[reagent].name] as const,
              ),
            ]}
          />
        ) : (
          <Field
            label={choice.label}
            value={text}
            set={put}
            placeholder={choice.shown}
            hint={problem ?? 'Empty: as proposed.'}
          />
        )
      ) : null}
    </li>
  );
}

function List({
  title,
  lines,
}: {
  title: string;
  lines: readonly { readonly what: string; readonly why: string }[];
}) {
  if (lines.length === 0) return null;
  return (
    <Section title={`${title} (${many(lines.length, 'thing')})`}>
      <ul className="lines">
        {lines.map(({ what, why }) => (
          <li key={what}>
            {what}
            <small>{why}</small>
          </li>
        ))}
      </ul>
    </Section>
  );
}
