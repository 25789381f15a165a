import { useMemo, useState } from 'react';
import {
  adviseDigestion,
  type DigestionOption,
  EQUIPMENT,
  EQUIPMENT_WORDS,
  type Equipment,
  type Harm,
  MATRICES,
  MATRIX_FACTS,
  type Matrix,
  POLYMER_GROUPS,
  POLYMER_WORDS,
  type PolymerGroup,
  SETTINGS,
  type Setting,
} from '../../science/digestion/index.ts';
import { SAFETY_FIRST, SAFETY_QUESTIONS } from '../../study/index.ts';
import { Choice, NumberField, typedNumber } from '../look/fields.tsx';
import { upper } from '../look/words.ts';
import { MethodLink } from '../methods/method-link.tsx';
import { Coupon } from './coupon.tsx';
import { Cautions, Trouble, Working } from './working.tsx';

/** Matrix, suspects and equipment in; options with harm and blank out. */
export function DigestionTable() {
  const [matrix, setMatrix] = useState<Matrix>('plant');
  const [setting, setSetting] = useState<Setting>('school');
  const [mass, setMass] = useState('2');
  const [polymers, setPolymers] = useState<readonly PolymerGroup[]>(['PE']);
  const [equipment, setEquipment] = useState<readonly Equipment[]>([
    'thermometer',
    'water-bath',
    'goggles-and-gloves',
    'vented-vessel',
    'balance',
  ]);
  const grams = typedNumber(mass);
  const outcome = useMemo(
    () =>
      adviseDigestion({
        matrix,
        setting,
        polymers,
        equipment,
        massG: mass.trim() === '' ? null : (grams ?? 0),
      }),
    [matrix, setting, polymers, equipment, mass, grams],
  );
  return (
    <Working
      inputs={
        <>
          <Choice
            label="What is to be taken away"
            value={matrix}
            set={setMatrix}
            options={MATRICES.map((one) => [one, MATRIX_FACTS[one].name] as const)}
          />
          <Choice
            label="Where"
            value={setting}
            set={setSetting}
            options={SETTINGS.map((one) => [one, one] as const)}
          />
          <NumberField label="Wet mass in one run" unit="g" value={mass} set={setMass} />
          <Ticks
            legend="Polymers in question"
            of={POLYMER_GROUPS}
            words={POLYMER_WORDS}
            chosen={polymers}
            set={setPolymers}
          />
          <Ticks
            legend="At hand"
            of={EQUIPMENT}
            words={EQUIPMENT_WORDS}
            chosen={equipment}
            set={setEquipment}
          />
        </>
      }
    >
      {outcome.ok ? (
        <>
          <h2 className="answer">{outcome.value.matrix.first}</h2>
          <p>{outcome.value.matrix.watch}</p>
          {outcome.value.options.map((option) => (
            <Option key={option.facts.reagent} option={option} />
          ))}
          {outcome.value.avoid.length > 0 ? (
            <p>Leave alone: {outcome.value.avoid.map(({ facts }) => facts.name).join('; ')}.</p>
          ) : null}
          <h3>A coupon: does it delete the suspect?</h3>
          <ol className="coupon">
            {outcome.value.coupon.map((one) => (
              <li key={one}>{one}</li>
            ))}
          </ol>
          <Coupon />
          <Cautions
            of={[
              SAFETY_FIRST,
              ...Object.values(SAFETY_QUESTIONS).map((one) => `In writing before the plan is ready: ${one}`),
            ]}
          />
          <MethodLink name="digestion" />
        </>
      ) : (
        <Trouble>{outcome.refusal.message}</Trouble>
      )}
    </Working>
  );
}

const STANDING: Readonly<Record<DigestionOption['standing'], string>> = {
  open: 'open to you',
  'not-asked': 'open with the equipment',
  'needs-equipment': 'lacks equipment',
  harms: 'harms the suspect',
  'not-here': 'not here',
};
const HARM: Readonly<Record<Harm, string>> = { ok: 'survives', caution: 'at risk', harm: 'harmed' };

function Option({ option }: { option: DigestionOption }) {
  const { facts } = option;
  const limits = [
    facts.ceilingC === null ? null : `at most ${facts.ceilingC} °C`,
    facts.hours === null ? null : `${facts.hours[0]} to ${facts.hours[1]} h`,
    option.volumeMl === null || option.volumeMl === 0 ? null : `${option.volumeMl} mL for this mass`,
  ].filter((one) => one !== null);
  return (
    <details className={`option ${option.standing}`} open={option.standing === 'open'}>
      <summary>
        <span className="option-name">{facts.name}</span>
        <span className="option-standing">{STANDING[option.standing]}</span>
      </summary>
      {option.because === null ? null : <p className="warned">{option.because}</p>}
      <p>It {facts.does}.</p>
      {limits.length > 0 ? <p>{upper(limits.join(' · '))}</p> : null}
      <p>{upper(facts.amount)}.</p>
      <ul className="harms">
        {option.harm.map(({ polymer, cell }) => (
          <li key={polymer} className={cell.harm}>
            <strong>{polymer}</strong> {HARM[cell.harm]}: {cell.note} <small>({cell.backing.from})</small>
          </li>
        ))}
      </ul>
      <p>Blank: {facts.blank}.</p>
      <p>Go only if all are answered yes:</p>
      <ol className="coupon">
        {option.goNoGo.map((one) => (
          <li key={one}>{one}</li>
        ))}
      </ol>
      {facts.cautions.length > 0 ? (
        <ul className="advice">
          {facts.cautions.map((one) => (
            <li key={one}>{one}</li>
          ))}
        </ul>
      ) : null}
      <p>
        <small>{facts.backing.from}</small>
      </p>
    </details>
  );
}

function Ticks<T extends string>({
  legend,
  of,
  words,
  chosen,
  set,
}: {
  legend: string;
  of: readonly T[];
  words: Readonly<Record<T, string>>;
  chosen: readonly T[];
  set: (chosen: readonly T[]) => void;
}) {
  return (
    <fieldset className="ticks">
      <legend>{legend}</legend>
      {of.map((one) => (
        <label key={one}>
          <input
            type="checkbox"
            checked={chosen.includes(one)}
            onChange={(event) =>
              set(event.currentTarget.checked ? [...chosen, one] : chosen.filter((other) => other !== one))
            }
          />
          {words[one]}
        </label>
      ))}
    </fieldset>
  );
}
