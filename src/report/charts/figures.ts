/** Numbers as the charts and pages print them: no locale, a real minus sign, no more digits than mean something. */

/** Three significant digits at most, whole numbers in full up to a million, thin spaces between thousands. */
export function figure(value: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`figure: a finite number is needed, given ${value}`);
  const size = Math.abs(value);
  if (size === 0) return '0';
  if (size >= 1e6 || size < 1e-3) {
    const [digits, power] = size.toExponential(2).split('e') as [string, string];
    return `${sign(value)}${trimmed(digits)} × 10${raised(Number(power))}`;
  }
  const whole = Number.isInteger(value);
  const decimals = whole ? 0 : Math.max(0, 2 - Math.floor(Math.log10(size)));
  const [left, right] = size.toFixed(decimals).split('.') as [string, string | undefined];
  const grouped = left.replaceAll(/\B(?=(\d{3})+(?!\d))/g, '\u202f');
  const tail = right === undefined ? '' : trimmed(`0.${right}`).slice(1);
  return `${sign(value)}${grouped}${tail}`;
}

/** A share of one as percent, never rounded to 0 % or 100 % unless it is exactly that. */
export function percent(share: number): string {
  if (!Number.isFinite(share)) throw new RangeError(`percent: a finite number is needed, given ${share}`);
  const hundred = share * 100;
  if (share > 0 && hundred < 1) return hundred < 0.1 ? 'under 0.1 %' : `${figure(round(hundred, 1))} %`;
  if (share < 1 && hundred > 99) return hundred > 99.9 ? 'over 99.9 %' : `${figure(round(hundred, 1))} %`;
  return `${figure(Math.round(hundred))} %`;
}

/** Ends of an axis and its ticks: a step of 1, 2 or 5 times a power of ten, at most `most` steps. */
export function axisTicks(low: number, high: number, most: number): readonly number[] {
  if (!(high > low)) throw new RangeError(`axis: the end must lie above the start, given ${low} to ${high}`);
  if (!(most >= 1)) throw new RangeError(`axis: at least one step is needed, given ${most}`);
  const raw = (high - low) / most;
  const power = 10 ** Math.floor(Math.log10(raw));
  const step = [1, 2, 5, 10].map((m) => m * power).find((s) => s >= raw * (1 - 1e-12)) ?? 10 * power;
  const first = Math.floor(low / step + 1e-9);
  const last = Math.ceil(high / step - 1e-9);
  const ticks: number[] = [];
  for (let k = first; k <= last; k++) ticks.push(round(k * step, 12));
  return ticks;
}

/** A round length for a scale bar: the longest of 1, 2 or 5 times a power of ten that is at most `most`. */
export function roundLength(most: number): number {
  if (!(most > 0)) throw new RangeError(`scale bar: a length above 0 is needed, given ${most}`);
  const power = 10 ** Math.floor(Math.log10(most));
  return power * ([5, 2, 1].find((times) => times * power <= most) ?? 1);
}

const sign = (value: number) => (value < 0 ? '\u2212' : '');
const trimmed = (digits: string) => (digits.includes('.') ? digits.replace(/\.?0+$/, '') : digits);
const round = (value: number, decimals: number) => Number(value.toFixed(decimals));
const RAISED = '⁰¹²³⁴⁵⁶⁷⁸⁹';
const raised = (power: number) =>
  (power < 0 ? '⁻' : '') +
  String(Math.abs(power))
    .split('')
    .map((d) => RAISED[Number(d)])
    .join('');

export const lengthWords = (um: number): string =>
  um >= 1000 ? `${figure(Number((um / 1000).toPrecision(3)))} mm` : `${figure(Math.round(um))} µm`;

export const massWords = (ug: number): string =>
  Math.abs(ug) >= 1000
    ? `${figure(Number((ug / 1000).toPrecision(3)))} mg`
    : `${figure(Number(ug.toPrecision(3)))} µg`;
