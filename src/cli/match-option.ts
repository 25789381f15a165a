import { done, type Outcome, refused } from '../units/index.ts';

/** A laser's wavelength in nm, as written (`532nm`, `785`). */
export function readLaser(text: string): Outcome<number> {
  const parts = /^\s*([0-9]+(?:[.,][0-9]+)?)\s*(?:nm)?\s*$/i.exec(text);
  const value = parts ? Number(parts[1]!.replace(',', '.')) : Number.NaN;
  return value >= 200 && value <= 2000
    ? done(value)
    : refused({
        why: 'out-of-range',
        message: `“${text}” is no laser: write its wavelength, 200nm to 2000nm.`,
      });
}

/** A share above 0 and at most a half. */
export function readFalseAccepts(text: string): Outcome<number> {
  const value = Number(text.replace(',', '.'));
  return text.trim() !== '' && value > 0 && value <= 0.5
    ? done(value)
    : refused({
        why: 'out-of-range',
        message: `“${text}” is no share of false accepts: write a number above 0 and up to 0.5.`,
      });
}
