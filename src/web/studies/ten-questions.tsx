import type { Dispatch, SetStateAction } from 'react';
import {
  EQUIPMENT,
  EQUIPMENT_WORDS,
  MATRICES,
  MATRIX_FACTS,
  POLYMER_GROUPS,
  POLYMER_WORDS,
  SETTINGS,
} from '../../science/digestion/index.ts';
import {
  ACT_WORDS,
  ACTS,
  type Changed,
  FIRST_ANSWERS,
  type PlanAnswers,
  SEEING,
  SEEING_WORDS,
} from '../../study/index.ts';
import { Choice, Field, NumberField, typedNumber } from '../look/fields.tsx';
import { Ticks } from './ticks.tsx';

const NUMBERS = [
  'minutes',
  'volumeMl',
  'matrixG',
  'hottestC',
  'pieces',
  'massG',
  'hours',
  'sessions',
] as const;
type NumberName = (typeof NUMBERS)[number];

/** The answers while they are typed: numbers are text until they are read. */
export type TypedAnswers = Omit<PlanAnswers, NumberName> & Readonly<Record<NumberName, string>>;

export const firstTyped = (person: string): TypedAnswers => ({
  ...FIRST_ANSWERS,
  ...(Object.fromEntries(NUMBERS.map((name) => [name, String(FIRST_ANSWERS[name])])) as Record<
    NumberName,
    string
  >),
  person,
});

const CALLED: Readonly<Record<NumberName, string>> = {
  minutes: 'For how long',
  volumeMl: 'How much liquid',
  matrixG: 'Food in one run',
  hottestC: 'How hot',
  pieces: 'Pieces',
  massG: 'Mass of a portion',
  hours: 'Hours',
  sessions: 'Sittings',
};

/** The answers, or which of them is no number. */
export function answersFrom(typed: TypedAnswers): PlanAnswers | string {
  const numbers: Partial<Record<NumberName, number>> = {};
  for (const name of NUMBERS) {
    const read = typedNumber(typed[name]);
    if (read === null) return `${CALLED[name]}: “${typed[name]}” is not a number; write it in figures.`;
    numbers[name] = read;
  }
  return { ...typed, ...(numbers as Record<NumberName, number>) };
}

export function TenQuestions({
  typed,
  set,
}: {
  typed: TypedAnswers;
  set: Dispatch<SetStateAction<TypedAnswers>>;
}) {
  const put =
    <K extends keyof TypedAnswers>(name: K) =>
    (value: TypedAnswers[K]) =>
      set((before) => ({ ...before, [name]: value }));
  const number = (name: NumberName, unit: string, hint?: string) => (
    <NumberField
      label={CALLED[name]}
      unit={unit}
      value={typed[name]}
      set={put(name)}
      {...(hint ? { hint } : {})}
    />
  );
  return (
    <ol className="ten">
      <Asked title="What may shed?">
        <Field
          wide
          label="Product"
          value={typed.product}
          set={put('product')}
          placeholder="chopping board, five years of use"
        />
        <Ticks
          legend="Of which plastic, if you know"
          all={POLYMER_GROUPS.map((group) => [group, POLYMER_WORDS[group]])}
          chosen={typed.polymers}
          set={put('polymers')}
        />
      </Asked>
      <Asked title="What is done to it?">
        <Choice
          label="It will"
          value={typed.act}
          set={put('act')}
          options={ACTS.map((act) => [act, ACT_WORDS[act]])}
        />
        {number('minutes', 'min')}
        <Field
          wide
          label="In your words"
          value={typed.actWords}
          set={put('actWords')}
          placeholder="One hundred grams of carrot cut to cubes on it"
        />
      </Asked>
      <Asked title="What do the particles end up in?">
        <Choice
          label="It is"
          value={typed.matrix}
          set={put('matrix')}
          options={MATRICES.map((matrix) => [matrix, MATRIX_FACTS[matrix].name])}
        />
        <Field label="Liquid, by name" value={typed.liquidWords} set={put('liquidWords')} />
        {number('volumeMl', 'mL', 'Through the filter, in one run.')}
        {number('matrixG', 'g', 'Wet; 0 where there is only water.')}
      </Asked>
      <Asked title="How hot does it get?">{number('hottestC', '°C')}</Asked>
      <Asked title="How will you look at the filters?">
        <Choice
          label="With a"
          value={typed.seeing}
          set={put('seeing')}
          options={SEEING.map((seeing) => [seeing, SEEING_WORDS[seeing]])}
          hint="It decides how small a piece can be counted."
        />
      </Asked>
      <Asked title="Will you test pieces with a hot needle?">
        <Choice
          label="Needle"
          value={typed.needle ? 'yes' : 'no'}
          set={(value) => put('needle')(value === 'yes')}
          options={[
            ['no', 'no'],
            ['yes', 'yes'],
          ]}
          hint="Then the filter must stand heat."
        />
      </Asked>
      <Asked title="Where, and with what?">
        <Choice
          label="Place"
          value={typed.setting}
          set={put('setting')}
          options={SETTINGS.map((setting) => [setting, setting])}
          hint="It decides which reagents may be offered at all."
        />
        <Field label="Spot" value={typed.place} set={put('place')} />
        <Ticks
          legend="What is there"
          all={EQUIPMENT.map((one) => [one, EQUIPMENT_WORDS[one]])}
          chosen={typed.equipment}
          set={put('equipment')}
        />
      </Asked>
      <Asked title="How much of the product is there?">
        {number('pieces', 'pieces', 'Of one lot, alike.')}
        {number('massG', 'g', 'What the answer is divided by in one run.')}
        <Choice
          label="The answer is in"
          value={typed.unit}
          set={put('unit')}
          options={[
            ['particles per gram', 'particles per gram'],
            ['particles per portion', 'particles per portion'],
          ]}
        />
      </Asked>
      <Asked title="How much time is there?">
        {number('hours', 'h', 'Of hands, all together.')}
        {number('sessions', 'sittings')}
      </Asked>
      <Asked title="Who works?">
        <Field label="Name" value={typed.person} set={put('person')} />
      </Asked>
    </ol>
  );
}

function Asked({ title, children }: { title: string; children: React.ReactNode }) {
  return (
    <li>
      <fieldset className="asked">
        <legend>{title}</legend>
        <div className="fields">{children}</div>
      </fieldset>
    </li>
  );
}

/** A change typed into a proposal; empty takes the proposal back. */
export function changedWith(changed: Changed, key: keyof Changed, text: string): Changed | string {
  const { [key]: _, ...rest } = changed;
  if (text.trim() === '') return rest;
  if (key === 'filter' || key === 'reagent') return { ...rest, [key]: text } as Changed;
  const read = typedNumber(text);
  return read === null ? `“${text}” is not a number; write it in figures.` : { ...rest, [key]: read };
}
