import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { FilterWish, RunChoices } from '../../api/index.ts';
import { say } from '../app/notices.tsx';
import { go, pathTo } from '../app/where.ts';
import { Choice, Field, NumberField, Sheet } from '../look/fields.tsx';
import { ask } from '../server/ask.ts';
import { benchQuery, choicesQuery, heard } from '../server/queries.ts';
import { filterWish } from './filter-wish.ts';

interface RunOfFilter {
  readonly id: string;
  readonly name: string;
  readonly filters: readonly unknown[];
}

/** Lays a filter for a run; begins from the filter laid last, since lots are used up one after the other. */
export function AddFilter({
  study,
  runs,
  onClose,
}: {
  study: string;
  runs: readonly RunOfFilter[];
  onClose: () => void;
}) {
  const choices = useQuery(choicesQuery(study)).data;
  if (!choices || runs.length === 0) return null;
  return <Form study={study} runs={runs} choices={choices} onClose={onClose} />;
}

const nameFor = (run: RunOfFilter): string =>
  run.filters.length === 0 ? `Filter ${run.name}` : `Filter ${run.name}, ${run.filters.length + 1}`;

function Form({
  study,
  runs,
  choices,
  onClose,
}: {
  study: string;
  runs: readonly RunOfFilter[];
  choices: RunChoices;
  onClose: () => void;
}) {
  const client = useQueryClient();
  const last = choices.last_filter;
  const [run, setRun] = useState((runs.find((one) => one.filters.length === 0) ?? runs[0]!).id);
  const [name, setName] = useState<string | null>(null);
  const [form, change] = useState({
    material: last?.material ?? '',
    pore: last ? String(last.pore_um) : '',
    diameter: last ? String(last.effective_diameter_mm) : '',
    pitch: last ? String(last.pitch_mm ?? '') : '',
    lot: last?.lot ?? '',
  });
  const [problem, setProblem] = useState<string | null>(null);
  const set = (field: keyof typeof form) => (value: string) => change((now) => ({ ...now, [field]: value }));
  const own = runs.find((one) => one.id === run) ?? runs[0]!;
  // A kept rest can be filtered later, on a filter of its own.
  const rests = (
    useQuery(benchQuery(study)).data?.runs.find((one) => one.run === own.id)?.fractions ?? []
  ).filter((one) => one.kind !== 'passed' && one.fate === 'kept');
  const [liquid, setLiquid] = useState('');
  const send = useMutation({
    mutationFn: (wish: FilterWish) => heard(ask('addFilter', { run }, wish)),
    onSuccess: async (made) => {
      await client.invalidateQueries({ queryKey: ['study', study] });
      say(`${made.name} is laid; bring in its photographs here.`);
      onClose();
      go(pathTo({ page: 'filters', study, item: made.id }));
    },
    onError: (error) => setProblem(error.message),
  });
  const submit = () => {
    const of = rests.some((one) => one.id === liquid) ? liquid : null;
    const wish = filterWish(name ?? nameFor(own), form, of);
    if (typeof wish === 'string') return setProblem(wish);
    setProblem(null);
    send.mutate(wish);
  };
  return (
    <Sheet
      title="Lay a filter"
      lead="The membrane that the run’s liquid went through. Its printed squares give photographs their scale."
      problem={problem}
      deed="Lay it"
      busy={send.isPending}
      onSubmit={submit}
      onClose={onClose}
    >
      {runs.length > 1 ? (
        <Choice
          label="Run"
          value={run}
          set={setRun}
          options={runs.map((one) => [one.id, one.name] as const)}
        />
      ) : null}
      <Field label="Name" value={name ?? nameFor(own)} set={setName} />
      {rests.length > 0 ? (
        <Choice
          label="Liquid"
          value={liquid}
          set={setLiquid}
          options={[
            ['', 'what passed in the run'],
            ...rests.map((one) => [one.id, `${one.volume_ml} mL ${one.kind} from ${one.place}`] as const),
          ]}
        />
      ) : null}
      <NumberField label="Pore" value={form.pore} set={set('pore')} unit="µm" />
      <NumberField
        label="Diameter of the disc"
        value={form.diameter}
        set={set('diameter')}
        unit="mm"
        hint="Where liquid passed, not the rim."
      />
      <NumberField
        label="Printed squares"
        value={form.pitch}
        set={set('pitch')}
        unit="mm"
        hint="From line to line; empty: no print."
      />
      <Field label="Lot" value={form.lot} set={set('lot')} />
      <Field label="Material" value={form.material} set={set('material')} />
    </Sheet>
  );
}
