import { useState } from 'react';
import { COUPON_VERDICTS, judgeCoupon } from '../../science/digestion/index.ts';
import { Choice, NumberField, typedNumber } from '../look/fields.tsx';

const FIELDS = [
  ['before', 'Pieces before', 'pieces'],
  ['after', 'Pieces after', 'pieces'],
  ['massBefore', 'Mass before', 'mg'],
  ['massAfter', 'Mass after', 'mg'],
  ['areaBefore', 'Area before', 'mm²'],
  ['areaAfter', 'Area after', 'mm²'],
  ['balance', 'The balance reads to', 'mg'],
] as const;
type Typed = Readonly<Record<(typeof FIELDS)[number][0], string>>;

/** Whether a coupon came through a digestion: counted, weighed, measured and looked at. */
export function Coupon() {
  const [typed, setTyped] = useState<Typed>({
    before: '10',
    after: '',
    massBefore: '',
    massAfter: '',
    areaBefore: '',
    areaAfter: '',
    balance: '1',
  });
  const [looks, setLooks] = useState<'same' | 'changed'>('same');
  return (
    <>
      <div className="fields">
        {FIELDS.map(([name, label, unit]) => (
          <NumberField
            key={name}
            label={label}
            unit={unit}
            value={typed[name]}
            set={(value) => setTyped((now) => ({ ...now, [name]: value }))}
          />
        ))}
        <Choice
          label="Edges and colour"
          value={looks}
          set={setLooks}
          options={[
            ['same', 'as before'],
            ['changed', 'changed'],
          ]}
        />
      </div>
      <p role="status">{verdictWords(typed, looks === 'changed')}</p>
    </>
  );
}

function verdictWords(typed: Typed, looksChanged: boolean): string {
  if (typed.after.trim() === '') return 'Count the pieces that came through, and the coupon is judged here.';
  const of = (name: keyof Typed) => typedNumber(typed[name]);
  const [before, after, balance] = [of('before'), of('after'), of('balance')];
  const whole = [before, after].every((n) => n !== null && Number.isInteger(n));
  if (!whole || before! < 1 || after! < 0) return 'Pieces: whole numbers are needed, one at least before.';
  if (balance === null || balance <= 0) return 'The balance reads to some mg above 0.';
  const pair = (a: keyof Typed, b: keyof Typed) => {
    const [x, y] = [of(a), of(b)];
    return x !== null && y !== null && x > 0 && y >= 0 ? ([x, y] as const) : null;
  };
  const { verdict, message } = judgeCoupon({
    pieces: [before!, after!],
    massMg: pair('massBefore', 'massAfter'),
    areaMm2: pair('areaBefore', 'areaAfter'),
    balanceMg: balance,
    looksChanged,
  });
  return `The coupon is ${COUPON_VERDICTS[verdict]}. ${message}`;
}
