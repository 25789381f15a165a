import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { ProcedureJson, StepJson, StepKindsAnswer } from '../../api/index.ts';
import { say } from '../app/notices.tsx';
import { Choice, Field, Sheet, typedNumber } from '../look/fields.tsx';
import { NotYet, PlaceHead } from '../look/parts.tsx';
import { ask } from '../server/ask.ts';
import { heard, proceduresQuery, stepKindsQuery } from '../server/queries.ts';
import { OwnKind } from './own-kind.tsx';
import { StepFields, type TypedStep, typedStep, UsedBefore } from './step-fields.tsx';
import { saysOf } from './step-list.tsx';
import { StepPicture } from './step-picture.tsx';

type Kinds = StepKindsAnswer['kinds'];

/** The steps to send, or what of them is no number. */
function stepsOf(typed: readonly TypedStep[]): StepJson[] | string {
  const steps: StepJson[] = [];
  for (const [at, { key, kind, quantities, touches, uncovered, openings, note }] of typed.entries()) {
    const where = `Step ${at + 1}, “${key}”`;
    const amounts: Record<string, number> = {};
    for (const [name, text] of Object.entries(quantities)) {
      if (text.trim() === '') continue;
      const amount = typedNumber(text);
      if (amount === null) return `${where}: “${text}” is not a number; write it in figures.`;
      amounts[name] = amount;
    }
    const [open, times] = [uncovered, openings].map((text) =>
      text.trim() === '' ? null : typedNumber(text),
    );
    if (uncovered.trim() !== '' && open === null) return `${where}: “${uncovered}” is no number of minutes.`;
    if (openings.trim() !== '' && times === null) return `${where}: “${openings}” is no number of times.`;
    const said = (what: string): string | null => touches[what]?.trim() || null;
    steps.push({
      key,
      kind,
      quantities: amounts,
      touches: {
        vessel: said('vessel'),
        tool: said('tool'),
        liquid: said('liquid'),
        reagent_lot: said('reagent_lot'),
        place: said('place'),
        person: said('person'),
        filter_lot: said('filter_lot'),
        optics: said('optics'),
      },
      minutes_uncovered: open ?? null,
      openings: times ?? null,
      note,
    });
  }
  return steps;
}

const freeKey = (kind: string, steps: readonly TypedStep[]): string => {
  if (!steps.some((step) => step.key === kind)) return kind;
  let n = 2;
  while (steps.some((step) => step.key === `${kind}-${n}`)) n += 1;
  return `${kind}-${n}`;
};

/** Writes a procedure, or the next edition of one: old editions stay, and so do the runs that followed them. */
export function ProcedureEditor({
  study,
  procedure,
  close,
}: {
  study: string;
  procedure: ProcedureJson | null;
  close: () => void;
}) {
  const client = useQueryClient();
  const known = useQuery(stepKindsQuery);
  const kinds: Kinds = known.data?.kinds ?? [];
  const others = useQuery(proceduresQuery(study)).data?.procedures ?? [];
  const latest = procedure?.editions[procedure.editions.length - 1];
  const [name, setName] = useState('');
  const [because, setBecause] = useState('');
  const [steps, setSteps] = useState<readonly TypedStep[]>(latest?.steps.map(typedStep) ?? []);
  const [open, setOpen] = useState<string | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const [declaring, setDeclaring] = useState(false);
  const save = useMutation({
    mutationFn: async (given: StepJson[]) => {
      if (procedure)
        return heard(ask('reviseProcedure', { procedure: procedure.id }, { steps: given, because }));
      const written = await heard(ask('writeProcedure', { study }, { name, steps: given, because }));
      return written.editions[written.editions.length - 1]!;
    },
    onSuccess: ({ stops }) => {
      for (const stop of stops) say(`Stop. ${stop}`);
      void client.invalidateQueries({ queryKey: ['study', study] });
      close();
    },
  });
  const submit = () => {
    const given = stepsOf(steps);
    if (typeof given === 'string') return setProblem(given);
    if (procedure && because.trim() === '') {
      return setProblem('Say why it is changed: the reason stands beside the new edition.');
    }
    setProblem(null);
    save.mutate(given);
  };
  const put = (kind: string) => {
    const key = freeKey(kind, steps);
    const last = steps[steps.length - 1];
    // The next step is mostly done at the same place by the same person.
    const touches = { place: last?.touches.place ?? '', person: last?.touches.person ?? '' };
    setSteps([...steps, { key, kind, quantities: {}, touches, uncovered: '', openings: '', note: '' }]);
    setOpen(key);
  };
  const swap = (at: number, by: -1 | 1) => {
    const next = [...steps];
    [next[at], next[at + by]] = [next[at + by]!, next[at]!];
    setSteps(next);
  };
  const used = others.flatMap((one) => one.editions.flatMap((edition) => edition.steps));
  return (
    <div className="page">
      <PlaceHead title="Procedure" lead="Step by step, with amounts and with what each step touches." />
      <UsedBefore steps={used} />
      {known.data ? null : <NotYet query={known} what="the kinds of steps" />}
      {declaring ? <OwnKind close={() => setDeclaring(false)} /> : null}
      <Sheet
        title={procedure ? `Change “${procedure.name}”` : 'Write a procedure'}
        lead={
          procedure
            ? `This makes edition ${(latest?.number ?? 0) + 1}. Runs keep the edition that they followed, and are compared with their controls at once.`
            : 'One procedure for the runs, one for each kind of control: the same steps, without what the control leaves out.'
        }
        problem={problem ?? save.error?.message ?? null}
        deed={procedure ? `Keep as edition ${(latest?.number ?? 0) + 1}` : 'Keep the procedure'}
        busy={save.isPending}
        onSubmit={submit}
        onClose={close}
      >
        {procedure ? (
          <Field wide label="Why it is changed" value={because} set={setBecause} />
        ) : (
          <>
            <Field label="Name" value={name} set={setName} placeholder="Carrot on the worn board" />
            {others.length > 0 ? (
              <Choice
                label="Begin from"
                value=""
                set={(id) => {
                  const from = others.find((one) => one.id === id);
                  const edition = from?.editions[from.editions.length - 1];
                  if (edition) setSteps(edition.steps.map(typedStep));
                }}
                options={[
                  ['', 'nothing'],
                  ...others.map((one) => [one.id, `the steps of “${one.name}”`] as const),
                ]}
              />
            ) : null}
          </>
        )}
        <ol className="steps editing wide">
          {steps.map((step, at) => (
            <li key={step.key} className="step">
              <StepPicture kind={step.kind} size={36} />
              <div>
                <p className="step-head">
                  <button
                    type="button"
                    className="button quiet step-open"
                    aria-expanded={open === step.key}
                    onClick={() => setOpen(open === step.key ? null : step.key)}
                  >
                    {at + 1}. {saysOf(kinds, step.kind)} <small>“{step.key}”</small>
                  </button>
                  <button
                    type="button"
                    className="button quiet"
                    aria-label={`${step.key}: earlier`}
                    disabled={at === 0}
                    onClick={() => swap(at, -1)}
                  >
                    ↑
                  </button>
                  <button
                    type="button"
                    className="button quiet"
                    aria-label={`${step.key}: later`}
                    disabled={at === steps.length - 1}
                    onClick={() => swap(at, 1)}
                  >
                    ↓
                  </button>
                  <button
                    type="button"
                    className="button quiet"
                    aria-label={`${step.key}: leave it out`}
                    onClick={() => setSteps(steps.filter((one) => one !== step))}
                  >
                    ×
                  </button>
                </p>
                {open === step.key ? (
                  <StepFields
                    step={step}
                    kind={kinds.find((kind) => kind.kind === step.kind)}
                    change={(changed) => setSteps(steps.map((one) => (one === step ? changed : one)))}
                  />
                ) : null}
              </div>
            </li>
          ))}
        </ol>
        <Choice
          label="Put in a step"
          value=""
          set={(kind) => {
            if (kind === 'declare') setDeclaring(true);
            else if (kind !== '') put(kind);
          }}
          options={[
            ['', 'choose what is done …'],
            ...kinds.map((kind) => [kind.kind, kind.own ? `${kind.says} (own)` : kind.says] as const),
            ['declare', 'a kind of our own …'],
          ]}
        />
      </Sheet>
    </div>
  );
}
