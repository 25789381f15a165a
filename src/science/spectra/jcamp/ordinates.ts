import { done, type Outcome, refused } from '../../../units/index.ts';

const SQUEEZED = '@ABCDEFGHIabcdefghi';
const DIFFERENCE = '%JKLMNOPQRjklmnopqr';
const DUPLICATE = 'STUVWXYZs';

/** The digit and sign behind a pseudo-digit: `@`/`%` 0, the next nine 1…9, the last nine −1…−9. */
const signed = (alphabet: string, letter: string): { digit: number; sign: 1 | -1 } => {
  const at = alphabet.indexOf(letter);
  return at > 9 ? { digit: at - 9, sign: -1 } : { digit: at, sign: 1 };
};

/** One line of ordinates, unpacked. */
export interface OrdinateLine {
  readonly values: readonly number[];
  /** The line ended in difference form: the next one repeats its last ordinate as a check. */
  readonly endsInDifference: boolean;
}

/**
 * One number with its form; PAC needs no separators because a sign starts the next number. An exponent needs its sign,
 * else its E would begin a squeezed ordinate.
 */
const TOKEN = /([@A-Ia-i%J-Rj-rS-Zs+-])?([0-9]*\.?[0-9]*(?:E[+-][0-9]+)?)/y;

/**
 * Unpacks ordinates in any of the five forms (AFFN, PAC, SQZ, DIF, DUP), mixed as writers mix them.
 * A first ordinate in plain digits where SQZ is due is accepted, as in the standard's own example.
 * Source: McDonald & Wilks 1988, Appl. Spectrosc. 42:151, §5.2–5.10, Table VII.
 * Refuses: `not-an-ordinate` for anything else, among it `?`, the mark of an ordinate that was not measured.
 */
export function readOrdinates(text: string): Outcome<OrdinateLine> {
  const values: number[] = [];
  let last = 0;
  let step = 0;
  let difference = false;
  let at = 0;
  while (at < text.length) {
    if (/[\s,;]/.test(text[at]!)) {
      at++;
      continue;
    }
    TOKEN.lastIndex = at;
    const token = TOKEN.exec(text);
    const [whole = '', form, digits = ''] = token ?? [];
    if (whole === '' || (digits === '' && (form === undefined || '+-'.includes(form)))) {
      return refused({
        why: 'not-an-ordinate',
        message: `“${text.slice(at, at + 12)}” is no ordinate in any of the forms of JCAMP-DX`,
      });
    }
    at += whole.length;
    if (form === undefined || form === '+' || form === '-') {
      last = Number(digits) * (form === '-' ? -1 : 1);
      difference = false;
      values.push(last);
    } else if (SQUEEZED.includes(form)) {
      const { digit, sign } = signed(SQUEEZED, form);
      last = sign * Number(`${digit}${digits}`);
      difference = false;
      values.push(last);
    } else if (DIFFERENCE.includes(form)) {
      const { digit, sign } = signed(DIFFERENCE, form);
      step = sign * Number(`${digit}${digits}`);
      last += step;
      difference = true;
      values.push(last);
    } else {
      const times = Number(`${DUPLICATE.indexOf(form) + 1}${digits}`);
      if (values.length === 0 || !Number.isSafeInteger(times) || times > 1_000_000) {
        return refused({
          why: 'not-an-ordinate',
          message: `“${whole}” repeats an ordinate that is not there`,
        });
      }
      for (let k = 1; k < times; k++) {
        if (difference) last += step;
        values.push(last);
      }
    }
    if (!Number.isFinite(last)) {
      return refused({ why: 'not-an-ordinate', message: `“${whole}” is no number` });
    }
  }
  return done({ values, endsInDifference: difference });
}
