import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { RunChoices, RunJson } from '../../api/index.ts';
import { say } from '../app/notices.tsx';
import { Choice, Field, NumberField, Sheet } from '../look/fields.tsx';
import { KIND_SHOWS, KIND_WORDS, many, upper } from '../look/words.ts';
import { ask, type Body } from '../server/ask.ts';
import { choicesQuery, heard } from '../server/queries.ts';
import { type Kind, type NewRuns, nextNames, runsWish } from './new-runs.ts';

const KINDS = (Object.keys(KIND_WORDS) as Kind[]).map((kind) => [kind, upper(KIND_WORDS[kind])] as const);
const MASSES = [
  ['product-before', 'the product, before use'],
  ['product-after', 'the product, after use'],
  ['food-or-liquid', 'the food or liquid'],
] as const;

/** Enters runs and controls, several at once where only names and masses differ. */
export function AddRuns({
  study,
  runs,
  onClose,
}: {
  study: string;
  runs: readonly RunJson[];
  onClose: () => void;
}) {
  const choices = useQuery(choicesQuery(study)).data;
  if (!choices) return null;
  return <Form key={study} study={study} runs={runs} choices={choices} onClose={onClose} />;
}

function begun(choices: RunChoices, runs: readonly RunJson[], kind: Kind): NewRuns {
  const free = choices.portions.find((portion) => portion.used_by === null);
  return {
    kind,
    names: nextNames(
      kind,
      runs.map((run) => run.name),
      kind === 'specimen-run' || kind === 'air-control' ? 1 : 3,
    ),
    how: free ? 'portion' : 'weighed',
    specimen: choices.specimens[0]?.id ?? '',
    masses: '',
    massIs: choices.mass_is,
    portion: free?.id ?? '',
    edition: (choices.editions.find((edition) => edition.in_use) ?? choices.editions[0])?.id ?? '',
    on: choices.today,
    session: choices.sessions.at(-1) ?? '1',
    by: choices.working,
    added: '',
    colour: '',
    size: '',
    note: '',
  };
}

function Form({
  study,
  runs,
  choices,
  onClose,
}: {
  study: string;
  runs: readonly RunJson[];
  choices: RunChoices;
  onClose: () => void;
}) {
  const client = useQueryClient();
  const [form, change] = useState(() => begun(choices, runs, 'specimen-run'));
  const [problem, setProblem] = useState<string | null>(null);
  const set =
    <K extends keyof NewRuns>(field: K) =>
    (value: NewRuns[K]) =>
      change((now) => ({ ...now, [field]: value }));
  const send = useMutation({
    mutationFn: (wish: Body<'addRuns'>) => heard(ask('addRuns', { study }, wish)),
    onSuccess: async ({ runs: made }) => {
      await client.invalidateQueries({ queryKey: ['study', study] });
      say(`${many(made.length, 'run')} entered: ${made.map((run) => run.name).join(', ')}.`);
      onClose();
    },
    onError: (error) => setProblem(error.message),
  });
  const submit = () => {
    const wish = runsWish(form);
    if (typeof wish === 'string') return setProblem(wish);
    setProblem(null);
    send.mutate(wish);
  };
  const onProduct = form.kind === 'specimen-run';
  const free = choices.portions.filter((portion) => portion.used_by === null);
  return (
    <Sheet
      title="Add runs"
      lead={KIND_SHOWS[form.kind]}
      problem={problem}
      deed="Add them"
      busy={send.isPending}
      onSubmit={submit}
      onClose={onClose}
    >
      <Choice
        label="Kind"
        value={form.kind}
        set={(kind) => change((now) => ({ ...now, kind, names: begun(choices, runs, kind).names }))}
        options={KINDS}
      />
      <Field
        label="Names"
        value={form.names}
        set={set('names')}
        wide
        hint="Several apart by commas: one run each."
      />
      {onProduct && free.length > 0 ? (
        <Choice
          label="Portion"
          value={form.how === 'weighed' ? '' : form.portion}
          set={(portion) =>
            change((now) => ({ ...now, portion, how: portion === '' ? 'weighed' : 'portion' }))
          }
          options={[...free.map(({ id, label }) => [id, label] as const), ['', 'weighed just now'] as const]}
        />
      ) : null}
      {onProduct && form.how === 'weighed' ? (
        <>
          <Choice
            label="Specimen"
            value={form.specimen}
            set={set('specimen')}
            options={
              choices.specimens.length === 0
                ? [['', 'none entered yet']]
                : choices.specimens.map(({ id, name }) => [id, name] as const)
            }
          />
          <NumberField
            label="Masses"
            value={form.masses}
            set={set('masses')}
            unit="g"
            hint="One for each name, apart by semicolons: 1.02; 0.97"
          />
          <Choice label="Mass of" value={form.massIs} set={set('massIs')} options={MASSES} />
        </>
      ) : null}
      {form.kind === 'spiked-run' ? (
        <>
          <NumberField label="Pieces put in" value={form.added} set={set('added')} hint="In each run." />
          <Field
            label="Their colour"
            value={form.colour}
            set={set('colour')}
            hint="They are found again by it."
          />
          <NumberField label="Their size" value={form.size} set={set('size')} unit="µm" />
        </>
      ) : null}
      <Choice
        label="Procedure"
        value={form.edition}
        set={set('edition')}
        options={
          choices.editions.length === 0
            ? [['', 'none written yet']]
            : choices.editions.map(({ id, label }) => [id, label] as const)
        }
      />
      <Field label="Day" type="date" value={form.on} set={set('on')} />
      <Field label="Session" value={form.session} set={set('session')} hint="Runs of one sitting share it." />
      <Choice
        label="Done by"
        value={form.by}
        set={set('by')}
        options={choices.people.map(({ id, name }) => [id, name] as const)}
      />
      <Field label="Note" value={form.note} set={set('note')} wide />
    </Sheet>
  );
}
