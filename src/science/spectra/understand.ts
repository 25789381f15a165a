import { done, type Outcome, type Refusal, refused } from '../../units/index.ts';
import { readHeading } from './columns/heading.ts';
import { laserOf, ramanShift } from './laser-line.ts';
import { flatness, flatTops, saturation, toAbsorbance } from './ordinate.ts';
import type { RawSpectrum, Spectrum, Technique } from './spectrum.ts';

/** What a person adds where a file is silent. */
export interface Told {
  readonly technique?: Technique;
  readonly laserNm?: number;
}

const no = (why: string, message: string): { readonly ok: false; readonly refusal: Refusal } =>
  refused({ why, message });

/**
 * Makes a spectrum comparable: axis in cm⁻¹ and ascending, bands upwards. What the file does not say is taken from the
 * numbers where they leave no doubt, and said in `taken`; else refused.
 * Refuses: `too-few-points`, `not-finite`, `duplicate-axis`, `axis-turns`, `unknown-axis`, `wrong-units`, `flat`,
 * `saturated`, `too-narrow`.
 */
export function understand(raw: RawSpectrum, name: string, told: Told = {}): Outcome<Spectrum> {
  const taken: string[] = raw.passedOver === undefined ? [] : [raw.passedOver];
  const points = raw.x.length;
  if (points < 20) {
    return no(
      'too-few-points',
      `${name} has ${points} points: too few for a spectrum, which takes hundreds. Export it whole.`,
    );
  }
  if (!raw.x.every(Number.isFinite) || !raw.y.every(Number.isFinite)) {
    return no('not-finite', `${name} has a point that is no number: export the spectrum again.`);
  }
  const ascending = raw.x[points - 1]! > raw.x[0]!;
  const x = ascending ? raw.x : raw.x.toReversed();
  const y = ascending ? raw.y : raw.y.toReversed();
  for (let k = 1; k < points; k++) {
    if (x[k] === x[k - 1]) {
      return no(
        'duplicate-axis',
        `${name} has two points at ${x[k]} of its axis: export one spectrum, each place once.`,
      );
    }
    if (x[k]! < x[k - 1]!) {
      return no(
        'axis-turns',
        `The axis of ${name} turns back at ${x[k - 1]}: export one spectrum, in order of its axis.`,
      );
    }
  }
  const unit = axisUnit(raw, x, taken);
  if (unit === null) {
    return no(
      'unknown-axis',
      `The axis of ${name} runs from ${short(x[0]!)} to ${short(x[points - 1]!)} and names no unit that is known: write cm-1, um or nm above it.`,
    );
  }
  const technique = told.technique ?? techniqueOf(raw, unit, x, y, taken);
  const placed = placeOnAxis(x, y, unit, technique, told.laserNm, name, taken);
  if (!placed.ok) return placed;
  const flat = flatness(placed.value.y, name);
  if (flat !== null) return refused(flat);
  const height =
    technique === 'raman'
      ? done(placed.value.y)
      : toAbsorbance(placed.value.y, ordinateUnit(raw), name, taken);
  if (!height.ok) return height;
  const cut = saturation(height.value, name);
  if (cut !== null) return refused(cut);
  const tops = flatTops(placed.value.x, height.value);
  if (tops !== null) taken.push(tops);
  const [low, high] = technique === 'raman' ? [150, 3600] : [400, 4000];
  const reach = Math.min(high, placed.value.x.at(-1)!) - Math.max(low, placed.value.x[0]!);
  if (!(reach >= 500)) {
    return no(
      'too-narrow',
      `${name} covers ${short(placed.value.x[0]!)} to ${short(placed.value.x.at(-1)!)} cm⁻¹: at least 500 cm⁻¹ between ${low} and ${high} are needed to tell a material. Check the unit of the axis, or measure more.`,
    );
  }
  return done({ title: raw.title, technique, axis: placed.value.x, height: height.value, taken });
}

/** How the sentence begins that says the technique was guessed. */
const TECHNIQUE_TAKEN = 'The file does not name the technique;';

/** Whether a spectrum's technique was taken from its numbers and not from its file. */
export const techniqueIsGuessed = ({ taken }: Spectrum): boolean =>
  taken.some((sentence) => sentence.startsWith(TECHNIQUE_TAKEN));

type AxisUnit = 'cm-1' | 'um' | 'nm';

function axisUnit(raw: RawSpectrum, x: Float64Array, taken: string[]): AxisUnit | null {
  const said = raw.xUnit === null ? null : readHeading(raw.xUnit).axis;
  if (said === 'raman shift') return /\bnm\b/i.test(raw.xUnit!) ? 'nm' : 'cm-1';
  if (said !== null) return said as AxisUnit;
  if (raw.xUnit !== null && !/arbitrary|unknown/i.test(raw.xUnit) && raw.remarks.length === 0) return null;
  const last = x.at(-1)!;
  if (x[0]! >= 1 && last <= 60 && last / x[0]! > 1.5) {
    taken.push('The axis names no unit; its numbers are those of µm.');
    return 'um';
  }
  if (last >= 1400 && last <= 12_000 && last - x[0]! >= 500) {
    taken.push('The axis names no unit; its numbers are those of cm⁻¹.');
    return 'cm-1';
  }
  return null;
}

const ordinateUnit = (raw: RawSpectrum): string | null =>
  raw.yUnit === null ? null : (readHeading(raw.yUnit).ordinate ?? raw.yUnit);

function techniqueOf(
  raw: RawSpectrum,
  unit: AxisUnit,
  x: Float64Array,
  y: Float64Array,
  taken: string[],
): Technique {
  const words = [raw.xUnit, raw.yUnit, raw.title, ...raw.remarks].join(' ');
  if (/raman/i.test(words)) return 'raman';
  if (/infra.?red|ft-?ir|\batr\b|\bdrift/i.test(words)) return 'infrared';
  const ordinate = ordinateUnit(raw);
  if (raw.yUnit !== null && ordinate !== 'intensity' && readHeading(raw.yUnit).ordinate !== null) {
    return 'infrared';
  }
  if (unit === 'um') return 'infrared';
  if (unit === 'nm') return x.at(-1)! > 1700 ? 'infrared' : 'raman';
  // Infrared spectrometers stop at 400 cm⁻¹ or above; absorbances stay below ten, per cent near a hundred, detector
  // counts reach far beyond. “Intensity” alone is written above both.
  const highest = y.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  const raman = x[0]! < 350 || highest > 250 || (ordinate === 'intensity' && x.at(-1)! < 3500 && x[0]! < 500);
  taken.push(`${TECHNIQUE_TAKEN} its axis and numbers are those of ${raman ? 'Raman' : 'infrared'}.`);
  return raman ? 'raman' : 'infrared';
}

function placeOnAxis(
  x: Float64Array,
  y: Float64Array,
  unit: AxisUnit,
  technique: Technique,
  laserNm: number | undefined,
  name: string,
  taken: string[],
): Outcome<{ x: Float64Array; y: Float64Array }> {
  if (unit === 'cm-1') return done({ x, y });
  const perNm = unit === 'um' ? 1000 : 1;
  if (x[0]! <= 0)
    return no(
      'wrong-units',
      `The axis of ${name} begins at ${x[0]} ${unit}: a wavelength is above 0. Check its unit.`,
    );
  if (technique === 'infrared') {
    return done({ x: x.map((v) => 1e7 / (v * perNm)).reverse(), y: y.toReversed() });
  }
  const laser = laserNm ?? laserOf(x[0]! * perNm, x.at(-1)! * perNm);
  if (laser === null) {
    return no(
      'wrong-units',
      `The axis of ${name} is in ${unit} from ${short(x[0]!)} to ${short(x.at(-1)!)} and fits no usual laser line: say the laser, such as --laser 532nm.`,
    );
  }
  if (laserNm === undefined) taken.push(`The laser is not named; ${laser} nm fits the axis.`);
  return done({ x: x.map((v) => ramanShift(laser, v * perNm)), y });
}

const short = (n: number): number => Number(n.toPrecision(6));
