import type { StepJson, StepKindJson } from '../../api/index.ts';
import { Field, NumberField } from '../look/fields.tsx';

/** A step while it is typed: numbers are text until they are kept. */
export interface TypedStep {
  readonly key: string;
  readonly kind: string;
  readonly quantities: Readonly<Record<string, string>>;
  readonly touches: Readonly<Record<string, string>>;
  readonly uncovered: string;
  readonly openings: string;
  readonly note: string;
}

export const typedStep = (step: StepJson): TypedStep => ({
  key: step.key,
  kind: step.kind,
  quantities: Object.fromEntries(
    Object.entries(step.quantities).map(([name, amount]) => [name, String(amount)]),
  ),
  touches: Object.fromEntries(Object.entries(step.touches).map(([what, value]) => [what, value ?? ''])),
  uncovered: step.minutes_uncovered === null ? '' : String(step.minutes_uncovered),
  openings: step.openings === null ? '' : String(step.openings),
  note: step.note,
});

/** Names of the touches as they travel. */
const SNAKE: Readonly<Record<string, keyof StepJson['touches']>> = {
  vessel: 'vessel',
  tool: 'tool',
  liquid: 'liquid',
  reagentLot: 'reagent_lot',
  place: 'place',
  person: 'person',
  filterLot: 'filter_lot',
  optics: 'optics',
};
const LABELS: Readonly<Record<string, string>> = {
  vessel: 'Vessel',
  tool: 'Tool',
  liquid: 'Liquid',
  reagentLot: 'Lot of the reagent',
  place: 'Place',
  person: 'Person',
  filterLot: 'Lot of the filter',
  optics: 'Lens setting',
};
const UNITS: Readonly<Record<string, string>> = { ml: 'mL', g: 'g', c: '°C', um: 'µm', minutes: 'min' };
const unitOf = (name: string): string | undefined =>
  UNITS[name] ?? UNITS[name.slice(name.lastIndexOf('_') + 1)];

/** What a step of this kind asks: its quantities, what it touches, and how long it stands open. */
export function StepFields({
  step,
  kind,
  change,
}: {
  step: TypedStep;
  kind: StepKindJson | undefined;
  change: (step: TypedStep) => void;
}) {
  return (
    <div className="fields">
      {(kind?.quantities ?? []).map(({ name, label, least, most }) => (
        <NumberField
          key={name}
          label={label.charAt(0).toUpperCase() + label.slice(1)}
          value={step.quantities[name] ?? ''}
          set={(value) => change({ ...step, quantities: { ...step.quantities, [name]: value } })}
          placeholder={`${least} to ${most}`}
          {...(unitOf(name) ? { unit: unitOf(name)! } : {})}
        />
      ))}
      {(kind?.touches ?? []).map((touch) => {
        const what = SNAKE[touch]!;
        return (
          <Field
            key={touch}
            label={LABELS[touch]!}
            list={`used-${what}`}
            value={step.touches[what] ?? ''}
            set={(value) => change({ ...step, touches: { ...step.touches, [what]: value } })}
          />
        );
      })}
      <NumberField
        label="Stands uncovered"
        unit="min"
        value={step.uncovered}
        set={(uncovered) => change({ ...step, uncovered })}
      />
      <NumberField
        label="Opened"
        unit="times"
        value={step.openings}
        set={(openings) => change({ ...step, openings })}
      />
      <Field wide label="Note" value={step.note} set={(note) => change({ ...step, note })} />
    </div>
  );
}

/** What was used before, offered while typing, so that one thing keeps one name. */
export function UsedBefore({ steps }: { steps: readonly StepJson[] }) {
  return (
    <>
      {Object.values(SNAKE).map((what) => (
        <datalist key={what} id={`used-${what}`}>
          {[...new Set(steps.flatMap((step) => step.touches[what] ?? []))].map((value) => (
            <option key={value} value={value} />
          ))}
        </datalist>
      ))}
    </>
  );
}
