import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { RunJson, WeighingsAnswer } from '../../api/index.ts';
import { figure } from '../../report/index.ts';
import { NumberField, Sheet, typedNumber } from '../look/fields.tsx';
import { Section } from '../look/parts.tsx';
import { ask, type Body } from '../server/ask.ts';
import { heard, weighingsQuery } from '../server/queries.ts';

type Weighing = WeighingsAnswer['weighings'][number];
const mg = (grams: number): string => figure(Number((1000 * grams).toPrecision(2)));

function useWeigh(study: string, run: string, onDone: () => void, onError: (message: string) => void) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (wish: Body<'addWeighing'>) => heard(ask('addWeighing', { run }, wish)),
    onSuccess: async () => {
      await client.invalidateQueries({ queryKey: ['study', study] });
      onDone();
    },
    onError: (error) => onError(error.message),
  });
}

/** What the product of a run weighed before and after: the claim checks that it lost as much as the pieces weigh. */
export function Weighed({ study, run }: { study: string; run: RunJson }) {
  const { data } = useQuery(weighingsQuery(study));
  const [open, setOpen] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  const takeBack = useWeigh(study, run.id, () => setProblem(null), setProblem);
  if (!data) return null;
  const weighing = data.weighings.find((one) => one.run === run.id);
  return (
    <Section title="The product, before and after">
      {weighing ? (
        <p>
          {weighing.before_g} g before, {weighing.after_g} g after, each weighed to ±
          {mg(weighing.uncertainty_g)} mg: {lossWords(weighing)}.
        </p>
      ) : (
        <p>Not weighed: whether so much mass can have come from the product is not known.</p>
      )}
      {problem ? <p className="warned">{problem}</p> : null}
      {open ? (
        <WeighingForm study={study} run={run} onClose={() => setOpen(false)} />
      ) : (
        <p className="fraction-add">
          <button type="button" className="button" onClick={() => setOpen(true)}>
            {weighing ? 'Weighed otherwise' : 'Say what it weighed'}
          </button>
          {weighing ? (
            <button
              type="button"
              className="button quiet"
              disabled={takeBack.isPending}
              onClick={() => {
                const { before_g, after_g, uncertainty_g, note } = weighing;
                takeBack.mutate({ stands: false, before_g, after_g, uncertainty_g, note });
              }}
            >
              Take back
            </button>
          ) : null}
        </p>
      )}
    </Section>
  );
}

function lossWords({ before_g, after_g, uncertainty_g }: Weighing): string {
  const change = before_g - after_g;
  const unsure = 2 * Math.SQRT2 * uncertainty_g;
  if (Math.abs(change) <= unsure) return `a change within the balance's own uncertainty (±${mg(unsure)} mg)`;
  return `it ${change > 0 ? 'lost' : 'gained'} ${mg(Math.abs(change))} mg (± ${mg(unsure)}, two standard uncertainties)`;
}

function WeighingForm({ study, run, onClose }: { study: string; run: RunJson; onClose: () => void }) {
  const [before, setBefore] = useState('');
  const [after, setAfter] = useState('');
  const [unsure, setUnsure] = useState('');
  const [problem, setProblem] = useState<string | null>(null);
  const send = useWeigh(study, run.id, onClose, setProblem);
  const submit = () => {
    const read = { before: typedNumber(before), after: typedNumber(after), unsure: typedNumber(unsure) };
    const named = {
      before: 'Before: a number of g',
      after: 'After: a number of g',
      unsure: 'Weighed to: a number of mg',
    };
    for (const key of ['before', 'after', 'unsure'] as const)
      if (!((read[key] ?? 0) > 0)) return setProblem(`${named[key]} above 0 is needed.`);
    setProblem(null);
    send.mutate({
      stands: true,
      before_g: read.before!,
      after_g: read.after!,
      uncertainty_g: read.unsure! / 1000,
      note: '',
    });
  };
  return (
    <Sheet
      title="The product on the balance"
      lead="Condition it alike before both weighings: what takes up water or dries changes more than it sheds."
      problem={problem}
      deed="Keep it"
      busy={send.isPending}
      onSubmit={submit}
      onClose={onClose}
    >
      <NumberField label="Before" value={before} set={setBefore} unit="g" />
      <NumberField label="After" value={after} set={setAfter} unit="g" />
      <NumberField
        label="Weighed to ±"
        value={unsure}
        set={setUnsure}
        unit="mg"
        hint="How far the same thing, weighed again, lies off; never less than a third of the last digit."
      />
    </Sheet>
  );
}
