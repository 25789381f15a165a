import { wrapped } from './claim-words.ts';

/** Three figures that mean something; the machine-readable form has them all. */
export const figure = (n: number): string =>
  n === 0 ? '0' : Math.abs(n) >= 1000 ? String(Math.round(n)) : String(Number(n.toPrecision(3)));

/** 45 s, 12 min, 3.5 h, 4 days. */
export function duration(seconds: number): string {
  if (seconds < 100) return `${figure(seconds)} s`;
  if (seconds < 100 * 60) return `${figure(seconds / 60)} min`;
  if (seconds < 72 * 3600) return `${figure(seconds / 3600)} h`;
  const days = seconds / 86_400;
  return days > 365 ? 'over a year' : `${figure(days)} days`;
}

export const list = (title: string, entries: readonly string[]): string =>
  entries.length === 0 ? '' : `\n${title}\n${entries.map((e) => wrapped(e, '  · ', '    ')).join('\n')}\n`;

export const table = (rows: readonly (readonly [string, string])[]): string =>
  rows.length === 0 ? '' : `\n${rows.map(([name, value]) => `  ${name.padEnd(26)}${value}`).join('\n')}\n`;
