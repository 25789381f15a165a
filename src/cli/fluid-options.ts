/** How times, temperatures, areas and densities are written on the command line. A unit is never guessed. */
import {
  MATERIALS,
  type Material,
  materialOf,
  type PieceShape,
  SHAPE_KINDS,
  USUAL_SHAPES,
} from '../science/fluids/index.ts';
import { done, type Outcome, readMicrometres, refused } from '../units/index.ts';

function reader(what: string, units: Readonly<Record<string, number>>, example: string) {
  return (text: string): Outcome<number> => {
    const parts = /^\s*(-?[0-9]+(?:[.,][0-9]+)?)\s*(.*?)\s*$/.exec(text);
    const unit = parts?.[2]?.toLowerCase() ?? '';
    if (!parts || !Object.hasOwn(units, unit)) {
      return refused({
        why: parts ? 'wrong-unit' : 'not-a-quantity',
        message: `“${text}” is not a ${what}: write a number and its unit, such as ${example}.`,
      });
    }
    const value = Number(parts[1]!.replace(',', '.')) * units[unit]!;
    return value >= 0
      ? done(value)
      : refused({ why: 'out-of-range', message: `“${text}” is not a ${what} from 0 upwards.` });
  };
}

export const readSeconds = reader('time', { s: 1, min: 60, h: 3600, d: 86_400 }, '90s, 10min or 2h');
export const readCm2 = reader('area', { cm2: 1, 'cm²': 1, mm2: 0.01, 'mm²': 0.01 }, '9.6cm2');
/** kg/m³ */
export const readDensity = reader(
  'density',
  { 'g/ml': 1000, 'g/cm3': 1000, 'g/cm³': 1000, 'kg/m3': 1, 'kg/m³': 1, 'kg/l': 1000 },
  '1.2g/mL',
);
export const readViscosity = reader('viscosity', { mpa·s: 1, mpas: 1, cp: 1 }, '1.5mPas');

export const readKPa = reader('pressure', { kpa: 1, pa: 0.001, bar: 100, mbar: 0.1 }, '60kPa');
export const readGramsPerLitre = reader('share of solids', { 'g/l': 1, 'mg/l': 0.001, 'mg/ml': 1 }, '2g/L');

/** So many pieces. */
export function readPieces(text: string): Outcome<number> {
  const value = Number(text.trim());
  return text.trim() !== '' && value >= 0 && Number.isSafeInteger(value)
    ? done(value)
    : refused({
        why: 'out-of-range',
        message: `“${text}” is no number of pieces: a whole number is needed.`,
      });
}

export function readWaterCelsius(text: string): Outcome<number> {
  const parts = /^\s*(-?[0-9]+(?:[.,][0-9]+)?)\s*(?:°\s*)?c?\s*$/i.exec(text);
  const value = parts ? Number(parts[1]!.replace(',', '.')) : Number.NaN;
  return value >= 0 && value <= 100
    ? done(value)
    : refused({
        why: 'out-of-range',
        message: `“${text}” is not a temperature of water: from 0 to 100 °C, such as 20C.`,
      });
}

/** `3` or `3x`: so many times. */
export function readTimes(text: string): Outcome<number> {
  const value = Number(text.trim().replace(/x$/i, '').replace(',', '.'));
  return text.trim() !== '' && value >= 1 && Number.isFinite(value)
    ? done(value)
    : refused({ why: 'out-of-range', message: `“${text}” is no dilution: 1 for none, 3 for threefold.` });
}

export function readPercent(text: string): Outcome<number> {
  const parts = /^\s*([0-9]+(?:[.,][0-9]+)?)\s*%\s*$/.exec(text);
  const value = parts ? Number(parts[1]!.replace(',', '.')) : Number.NaN;
  return value >= 0 && value <= 100
    ? done(value)
    : refused({ why: 'not-a-quantity', message: `“${text}” is not a share by mass: write it as 20%.` });
}

export function readMaterial(text: string): Outcome<Material> {
  const found = materialOf(text);
  return found
    ? done(found)
    : refused({
        why: 'no-such-material',
        message: `“${text}” is not in the table of materials; known are ${MATERIALS.map((one) => one.code).join(', ')}.`,
      });
}

/** `fragment`, `sphere`, `fibre:15um` or `film:25um`. */
export function readShape(text: string): Outcome<PieceShape> {
  const [kind, size] = text.trim().split(':') as [string, string | undefined];
  const known = SHAPE_KINDS.find((one) => one === kind);
  if (!known) {
    return refused({
      why: 'no-such-shape',
      message: `“${text}” is no shape: sphere, fragment, fibre:15um (its width) or film:25um (its thickness).`,
    });
  }
  if (size === undefined) return done(USUAL_SHAPES[known]);
  const length = readMicrometres(size);
  if (!length.ok) return length;
  if (!(length.value > 0) || known === 'sphere' || known === 'fragment') {
    return refused({ why: 'no-such-shape', message: `“${text}”: only fibre and film take a size above 0.` });
  }
  return done(
    known === 'fibre'
      ? { kind: 'fibre', widthUm: length.value }
      : { kind: 'film', thicknessUm: length.value },
  );
}
