/**
 * Quantities: plain numbers that carry their unit in the type and cost nothing at run time.
 * Brands are made here and nowhere else; hot loops may use plain numbers inside a room.
 */
declare const unit: unique symbol;

/** A finite number in one unit. */
export type Quantity<U extends string> = number & { readonly [unit]: U };

export type Micrometres = Quantity<'µm'>;
export type Millimetres = Quantity<'mm'>;
export type Pixels = Quantity<'px'>;
export type MicrometresPerPixel = Quantity<'µm/px'>;
export type SquareMicrometres = Quantity<'µm²'>;
export type Grams = Quantity<'g'>;
export type Millilitres = Quantity<'mL'>;
export type Celsius = Quantity<'°C'>;
export type Seconds = Quantity<'s'>;
export type Minutes = Quantity<'min'>;
/** Between 0 and 1, both included. */
export type Fraction = Quantity<'1'>;
/** A whole number from 0. */
export type Count = Quantity<'count'>;

function finite<U extends string>(name: string, value: number): Quantity<U> {
  if (!Number.isFinite(value)) throw new RangeError(`${name}: a finite number is needed, given ${value}`);
  return value as Quantity<U>;
}

function notNegative<U extends string>(name: string, value: number): Quantity<U> {
  if (value < 0) throw new RangeError(`${name}: a number from 0 is needed, given ${value}`);
  return finite<U>(name, value);
}

export const um = (n: number): Micrometres => notNegative('length in µm', n);
export const mm = (n: number): Millimetres => notNegative('length in mm', n);
export const px = (n: number): Pixels => notNegative('length in pixels', n);
export const um2 = (n: number): SquareMicrometres => notNegative('area in µm²', n);
export const grams = (n: number): Grams => notNegative('mass in g', n);
export const millilitres = (n: number): Millilitres => notNegative('volume in mL', n);
export const celsius = (n: number): Celsius => finite('temperature in °C', n);
export const seconds = (n: number): Seconds => notNegative('time in s', n);
export const minutes = (n: number): Minutes => notNegative('time in min', n);

/** Scale of a photograph; throws RangeError unless above 0. */
export function umPerPx(n: number): MicrometresPerPixel {
  if (!(n > 0)) throw new RangeError(`scale in µm/px: a number above 0 is needed, given ${n}`);
  return finite('scale in µm/px', n);
}

/** Throws RangeError unless 0 ≤ n ≤ 1. */
export function fraction(n: number): Fraction {
  if (!(n >= 0 && n <= 1)) throw new RangeError(`fraction: a number from 0 to 1 is needed, given ${n}`);
  return n as Fraction;
}

/** Throws RangeError unless n is a whole number from 0. */
export function count(n: number): Count {
  if (!Number.isSafeInteger(n) || n < 0) {
    throw new RangeError(`count: a whole number from 0 is needed, given ${n}`);
  }
  return n as Count;
}

export const mmToUm = (length: Millimetres): Micrometres => (length * 1000) as Micrometres;
export const umToMm = (length: Micrometres): Millimetres => (length / 1000) as Millimetres;
/** A length in the photograph to a length on the filter. */
export const pxToUm = (length: Pixels, scale: MicrometresPerPixel): Micrometres =>
  (length * scale) as Micrometres;
export const umToPx = (length: Micrometres, scale: MicrometresPerPixel): Pixels => (length / scale) as Pixels;
