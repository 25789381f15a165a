import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { RunWishJson, SpecimensAnswer, StudyPlanJson } from '../../api/index.ts';
import { Choice, Field, NumberField, Sheet, typedNumber } from '../look/fields.tsx';
import { NotYet, Section } from '../look/parts.tsx';
import { KIND_WORDS, many, upper } from '../look/words.ts';
import { ask } from '../server/ask.ts';
import { heard, specimensQuery } from '../server/queries.ts';

type Planned = StudyPlanJson['runs'][number];
type MassIs = NonNullable<NonNullable<RunWishJson['weighed']>['mass_is']>;

/** Runs that are planned and not recorded yet, by sitting; each is recorded with a word or two when it is begun. */
export function PlannedRuns({ study, runs }: { study: string; runs: readonly Planned[] }) {
  const [begun, setBegun] = useState<string | null>(null);
  const specimens = useQuery(specimensQuery(study));
  const left = runs.filter((run) => run.run === null);
  if (left.length === 0) return null;
  const chosen = left.find((run) => run.name === begun);
  return (
    <Section
      title="Still to do, as planned"
      lead={`${runs.length - left.length} of ${many(runs.length, 'run')} recorded. Choose one when you begin it.`}
    >
      <ol className="sittings">
        {[...new Set(left.map((run) => run.session))].map((session) => (
          <li key={session}>
            <h3>{upper(session)}</h3>
            <ol>
              {left
                .filter((run) => run.session === session)
                .map((run) => (
                  <li key={run.name}>
                    <button
                      type="button"
                      className={`sitting-run kind-${run.kind}`}
                      title={run.because}
                      aria-pressed={begun === run.name}
                      onClick={() => setBegun(begun === run.name ? null : run.name)}
                    >
                      <span aria-hidden="true" className="sitting-mark" />
                      {run.name} <span className="unseen">({run.procedure})</span>
                    </button>
                  </li>
                ))}
            </ol>
          </li>
        ))}
      </ol>
      {chosen && specimens.data ? (
        <Begin
          key={chosen.name}
          study={study}
          run={chosen}
          specimens={specimens.data.specimens}
          close={() => setBegun(null)}
        />
      ) : chosen ? (
        <NotYet query={specimens} what="the portions" />
      ) : null}
    </Section>
  );
}

const today = (): string => {
  const now = new Date();
  return `${now.getFullYear()}-${String(now.getMonth() + 1).padStart(2, '0')}-${String(now.getDate()).padStart(2, '0')}`;
};

/** The few things that a plan cannot know: the day, the mass that was weighed, the pieces that were put in. */
function Begin({
  study,
  run,
  specimens,
  close,
}: {
  study: string;
  run: Planned;
  specimens: SpecimensAnswer['specimens'];
  close: () => void;
}) {
  const client = useQueryClient();
  const specimen = specimens.find((one) => one.name === run.specimen) ?? specimens[0];
  const free = specimen?.portions.filter((portion) => portion.used_by === null) ?? [];
  const [day, setDay] = useState(today());
  const [portion, setPortion] = useState('');
  const [mass, setMass] = useState('');
  const [massIs, setMassIs] = useState<MassIs>(specimen?.portions[0]?.mass_is ?? 'product-before');
  const [added, setAdded] = useState('60');
  const [colour, setColour] = useState('orange');
  const [own, setOwn] = useState<string | null>(null);
  const record = useMutation({
    mutationFn: (wish: RunWishJson) => heard(ask('addRuns', { study }, { runs: [wish] })),
    onSuccess: () => {
      void client.invalidateQueries({ queryKey: ['study', study] });
      close();
    },
  });
  const isSpecimen = run.kind === 'specimen';
  const submit = () => {
    const grams = typedNumber(mass);
    const pieces = typedNumber(added);
    if (isSpecimen && portion === '' && grams === null) {
      return setOwn('Weigh the portion and write its mass in grams, or choose one weighed before.');
    }
    if (run.kind === 'spiked-run' && pieces === null) return setOwn('Write how many known pieces went in.');
    setOwn(null);
    record.mutate({
      name: run.name,
      kind: isSpecimen ? 'specimen-run' : (run.kind as Exclude<RunWishJson['kind'], 'specimen-run'>),
      edition: run.edition,
      portion: isSpecimen && portion !== '' ? portion : null,
      weighed:
        isSpecimen && portion === '' && specimen
          ? { specimen: specimen.id, mass_g: grams!, mass_is: massIs, pieces: null }
          : null,
      spike: run.kind === 'spiked-run' ? { added: pieces!, colour, material: '', size_um: null } : null,
      on: day,
      session: run.session,
      note: '',
    });
  };
  return (
    <Sheet
      title={`Begin ${run.name}: ${isSpecimen ? 'specimen run' : KIND_WORDS[run.kind as Exclude<Planned['kind'], 'specimen'>]}`}
      lead={`${run.because} It follows “${run.procedure}”.`}
      problem={own ?? record.error?.message ?? null}
      deed="Record the run"
      busy={record.isPending}
      onSubmit={submit}
      onClose={close}
    >
      <Field label="Day" type="date" value={day} set={setDay} />
      {isSpecimen && free.length > 0 ? (
        <Choice
          label="Portion"
          value={portion}
          set={setPortion}
          options={[
            ['', 'weighed now'],
            ...free.map((one) => [one.id, `${one.name}, ${one.mass_g} g`] as const),
          ]}
        />
      ) : null}
      {isSpecimen && portion === '' ? (
        <>
          <NumberField label="Mass of the portion" unit="g" value={mass} set={setMass} />
          <Choice<MassIs>
            label="Which mass"
            value={massIs}
            set={setMassIs}
            options={[
              ['product-before', 'of the product before'],
              ['product-after', 'of the product after'],
              ['food-or-liquid', 'of the food or liquid'],
            ]}
          />
        </>
      ) : null}
      {run.kind === 'spiked-run' ? (
        <>
          <NumberField label="Known pieces put in" value={added} set={setAdded} />
          <Field label="Their colour" value={colour} set={setColour} hint="Used nowhere else." />
        </>
      ) : null}
    </Sheet>
  );
}
