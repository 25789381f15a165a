import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { StepKindJson } from '../../api/index.ts';
import { type Cause, leftOpen } from '../../study/index.ts';
import { Choice, Field, Sheet } from '../look/fields.tsx';
import { ask } from '../server/ask.ts';
import { heard, stepKindsQuery } from '../server/queries.ts';

const ASKS: readonly StepKindJson['quantities'][number][] = [
  { name: 'volume_ml', label: 'volume', least: 0.01, most: 100_000, tolerance: 0.1, scales: true },
  { name: 'mass_g', label: 'mass', least: 0.0001, most: 100_000, tolerance: 0.1, scales: true },
  { name: 'minutes', label: 'time', least: 0, most: 100_000, tolerance: 0.2, scales: false },
  { name: 'temperature_c', label: 'temperature', least: -30, most: 140, tolerance: 0.1, scales: false },
  { name: 'times', label: 'how many times', least: 1, most: 10_000, tolerance: 0, scales: true },
];
const BRINGS: readonly Cause[] = ['act', 'person', 'air', 'vessel', 'tool', 'liquid', 'reagent', 'filter'];

/** A kind of step of the laboratory's own: what it is called, what it asks, what stray particles it can bring. */
export function OwnKind({ close }: { close: () => void }) {
  const client = useQueryClient();
  const [says, setSays] = useState('');
  const [asks, setAsks] = useState<readonly string[]>([]);
  const [brings, setBrings] = useState<readonly Cause[]>(['air']);
  const declare = useMutation({
    mutationFn: (kind: StepKindJson) => heard(ask('declareStepKind', {}, kind)),
    onSuccess: () => {
      void client.invalidateQueries({ queryKey: stepKindsQuery.queryKey });
      close();
    },
  });
  const kind = says
    .trim()
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-')
    .replaceAll(/^-+|-+$/g, '')
    .slice(0, 40);
  return (
    <Sheet
      title="A kind of step of our own"
      lead="It is compared between runs and controls like any other kind. A quantity that scales lets twice as much stand for twice the background."
      problem={declare.error?.message ?? null}
      deed="Declare it"
      busy={declare.isPending}
      onSubmit={() =>
        declare.mutate({
          kind,
          says,
          quantities: ASKS.filter((one) => asks.includes(one.name)),
          touches: ['vessel', 'tool', 'liquid', 'reagentLot', 'place', 'person'],
          brings: [...brings],
          makes: [],
        })
      }
      onClose={close}
    >
      <Field label="What is done" value={says} set={setSays} placeholder="Rub with a cloth" />
      <Choice
        label="What it asks"
        value=""
        set={(name) =>
          setAsks(asks.includes(name) ? asks.filter((one) => one !== name) : [...asks, name].filter(Boolean))
        }
        options={[
          ['', asks.length === 0 ? 'nothing yet: choose' : asks.map(labelOf).join(', ')],
          ...ASKS.map(({ name, label }) => [name, asks.includes(name) ? `not the ${label}` : label] as const),
        ]}
      />
      <fieldset className="field wide">
        <legend>What stray particles can come with it</legend>
        <div className="ticks">
          {BRINGS.map((cause) => (
            <label key={cause}>
              <input
                type="checkbox"
                checked={brings.includes(cause)}
                onChange={() =>
                  setBrings(
                    brings.includes(cause) ? brings.filter((one) => one !== cause) : [...brings, cause],
                  )
                }
              />
              {leftOpen(cause)}
            </label>
          ))}
        </div>
      </fieldset>
    </Sheet>
  );
}

const labelOf = (name: string): string => ASKS.find((one) => one.name === name)?.label ?? name;
