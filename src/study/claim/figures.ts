import type { Interval } from '../../science/counting/index.ts';

const MOST_DECIMALS = 6;

/** Decimals that show a number to two figures of its own uncertainty (or of itself); below 0: tens, hundreds, thousands. */
function decimalsFor(size: number): number {
  if (!(size > 0)) return 0;
  return Math.min(MOST_DECIMALS, 1 - Math.floor(Math.log10(size)));
}

const minus = (text: string): string => text.replace(/^-/, '−');

function fixed(value: number, decimals: number): string {
  const step = 10 ** -decimals;
  const text = decimals < 0 ? String(Math.round(value / step) * step) : value.toFixed(decimals);
  return minus(Number(text) === 0 ? text.replace(/^-/, '') : text);
}

/** A number to two figures: 3.7, 21, 0.046, 1300. */
export function twoFigures(value: number): string {
  const size = Math.abs(value);
  if (size === 0) return '0';
  if (size >= 100) {
    const step = 10 ** (Math.floor(Math.log10(size)) - 1);
    return minus(String(Math.round(value / step) * step));
  }
  return fixed(value, decimalsFor(size));
}

/** “13 (7 to 23)”: value and interval to two figures of the interval's half width. */
export function withInterval(of: Interval): string {
  const decimals = decimalsFor((of.upper - of.lower) / 2);
  return `${fixed(of.value, decimals)} (${fixed(of.lower, decimals)} to ${fixed(of.upper, decimals)})`;
}

/** The value of an interval alone: to two figures of its own, and never coarser than the interval beside it. */
export const besideInterval = (of: Interval): string =>
  fixed(of.value, Math.max(decimalsFor(Math.abs(of.value)), decimalsFor((of.upper - of.lower) / 2)));

/** “7 to 23”. */
export function range(of: Interval): string {
  const decimals = decimalsFor((of.upper - of.lower) / 2);
  return `${fixed(of.lower, decimals)} to ${fixed(of.upper, decimals)}`;
}

export const percent = (share: number): string => `${twoFigures(100 * share).replace(/\.0$/, '')} %`;

/** “p = 0.014”, “p < 0.001”. */
export function chance(p: number): string {
  if (p < 0.001) return 'p < 0.001';
  return `p = ${p < 0.1 ? p.toFixed(p < 0.01 ? 4 : 3) : p.toFixed(2)}`;
}

export const plural = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;
