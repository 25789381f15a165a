import { done, type Outcome, refused } from './outcome.ts';
import {
  type Grams,
  grams,
  type Micrometres,
  type Millilitres,
  type Millimetres,
  millilitres,
  mm,
  um,
} from './quantity.ts';

type Kind = 'length' | 'mass' | 'volume';

/** Size of one written unit in the base unit of its kind (µm, g, mL). */
const WRITTEN: Record<Kind, Record<string, number>> = {
  length: { um: 1, µm: 1, μm: 1, mm: 1000, cm: 10_000 },
  mass: { g: 1, mg: 0.001, kg: 1000 },
  volume: { ml: 1, l: 1000, ul: 0.001, µl: 0.001, μl: 0.001 },
};

/**
 * Reads a number with its unit as people type it ("3.1mm", "0,5 g", "200 mL"). The unit is never guessed:
 * a number alone is refused, and so is a unit of another kind.
 */
function read(kind: Kind, text: string): Outcome<number> {
  const parts = /^\s*(-?[0-9]+(?:[.,][0-9]+)?(?:e[+-]?[0-9]+)?)\s*([a-zµμ]*)\s*$/i.exec(text);
  const allowed = Object.keys(WRITTEN[kind])
    .filter((u) => !/[µμ]/.test(u))
    .join(', ');
  if (!parts) {
    return refused({
      why: 'not-a-quantity',
      message: `“${text}” is not a ${kind}: write a number and its unit (${allowed}).`,
    });
  }
  const value = Number(parts[1]!.replace(',', '.'));
  const units = WRITTEN[kind];
  const unit = parts[2]!.toLowerCase();
  const size = Object.hasOwn(units, unit) ? units[unit] : undefined;
  if (size === undefined) {
    const given = parts[2] === '' ? 'no unit' : `the unit “${parts[2]}”`;
    return refused({ why: 'wrong-unit', message: `“${text}” has ${given}: a ${kind} takes ${allowed}.` });
  }
  if (!(value >= 0) || !Number.isFinite(value)) {
    return refused({ why: 'out-of-range', message: `“${text}” is not a ${kind} from 0 upwards.` });
  }
  return done(value * size);
}

function as<Q>(kind: Kind, text: string, make: (n: number) => Q): Outcome<Q> {
  const read_ = read(kind, text);
  return read_.ok ? done(make(read_.value)) : read_;
}

export const readMicrometres = (text: string): Outcome<Micrometres> => as('length', text, um);
export const readMillimetres = (text: string): Outcome<Millimetres> =>
  as('length', text, (n) => mm(n / 1000));
export const readGrams = (text: string): Outcome<Grams> => as('mass', text, grams);
export const readMillilitres = (text: string): Outcome<Millilitres> => as('volume', text, millilitres);
