import { describe, expect, it } from 'vitest';
import { readSpectrumText } from '../read-spectrum.ts';
import { readColumns } from './read-columns.ts';

/** An axis from 4000 downwards with a band at 1700, as many lines as a table needs to be one. */
const lines = (between: string, decimal: string, points = 60): string =>
  Array.from({ length: points }, (_, k) => {
    const x = 4000 - 50 * k;
    const y = 0.1 + Math.exp(-(((x - 1700) / 80) ** 2));
    return [x.toFixed(1), y.toFixed(4)].map((n) => n.replace('.', decimal)).join(between);
  }).join('\n');

const one = (text: string, name = 'board.csv') => {
  const read = readSpectrumText(text, name);
  if (!read.ok) throw new Error(read.refusal.message);
  expect(read.value).toHaveLength(1);
  return read.value[0]!;
};

describe('columns are read', () => {
  it.each([
    ['comma', ',', '.'],
    ['semicolon', ';', '.'],
    ['semicolon and decimal comma', ';', ','],
    ['tab', '\t', '.'],
    ['tab and decimal comma', '\t', ','],
    ['blanks', '   ', '.'],
    ['blanks and decimal comma', '  ', ','],
  ])('parted by %s', (_words, between, decimal) => {
    const { x, y } = one(lines(between, decimal));
    expect(x[0]).toBe(4000);
    expect(y[46]).toBeCloseTo(1.1, 4);
    expect(x).toHaveLength(60);
  });

  it('under any number of lines of words, with the units above them', () => {
    const { xUnit, yUnit } = one(
      `Created as New Dataset,135 Bayer\nDate,2026-01-01\n\ncm-1,%T\n${lines(',', '.')}\n`,
    );
    expect(xUnit).toBe('cm-1');
    expect(yUnit).toBe('%T');
  });

  it('under comments, with a byte order mark and Windows line ends', () => {
    const { xUnit, yUnit } = one(
      `\uFEFF# Wavenumber (1/cm)\tAbsorbance\r\n${lines('\t', '.').replaceAll('\n', '\r\n')}\r\n`,
    );
    expect(xUnit).toBe('cm-1');
    expect(yUnit).toBe('absorbance');
  });

  it('with several spectra side by side, each under its heading', () => {
    const text = lines(',', '.')
      .split('\n')
      .map((line, k) => `${line},${k / 10},${k % 7}`)
      .join('\n');
    const read = readSpectrumText(`wavenumber,PE,PP,cotton\n${text}`, 'all.csv');
    expect(read.ok && read.value.map(({ title }) => title)).toEqual(['PE', 'PP', 'cotton']);
  });

  it('with one spectrum a line under a heading of abscissas', () => {
    const axis = Array.from({ length: 60 }, (_, k) => 4000 - 50 * k);
    const row = axis.map((x) => (x === 1700 ? 1 : 0.1)).join(',');
    const read = readSpectrumText(`material,${axis.join(',')}\nPE,${row}\ncotton,${row}\n`, 'wide.csv');
    expect(read.ok && read.value.map(({ title, x }) => [title, x.length])).toEqual([
      ['PE', 60],
      ['cotton', 60],
    ]);
  });
});

describe('what is no table of a spectrum is refused in one sentence', () => {
  it.each([
    ['nothing', '', /is empty/],
    ['three points', '4000,1\n3000,2\n2000,1\n', /has 3 points: too few/],
    ['a megabyte of words', 'lorem ipsum dolor '.repeat(60_000), /holds no columns of numbers/],
    ['bytes', 'ab\u0000cd', /is not text/],
  ])('%s', (_words, text, sentence) => {
    const read = readSpectrumText(text, 'board.txt');
    expect(read.ok ? 'read' : read.refusal.message).toMatch(sentence);
    if (!read.ok) expect(read.refusal.message.split(/[.?!](?:\s|$)/).filter(Boolean).length).toBeLessThan(3);
  });
});

describe('a table that breaks off', () => {
  const rows = Array.from({ length: 60 }, (_, k) => `${4000 - 50 * k},${(0.1 + k / 100).toFixed(2)}`);
  const read = (text: string) => {
    const found = readColumns(text, 'x.csv');
    if (!found.ok) throw new Error(found.refusal.message);
    return found.value[0]!;
  };

  it('by a row that is no pair of numbers says which line, and what of it is used', () => {
    const broken = ['cm-1,A', ...rows.slice(0, 20), '3000,nan', ...rows.slice(21)];
    const found = read(broken.join('\n'));
    expect(found.x.length).toBe(39);
    expect(found.xUnit).toBe('cm-1');
    expect(found.passedOver).toMatch(/Line 22 .* of its 59 rows only the 39 of lines 23 to 61 are used/);
  });

  it('by a second table is another spectrum, of which nothing is said', () => {
    expect(
      read(['cm-1,A', ...rows, '', 'cm-1,A', ...rows.slice(0, 30)].join('\n')).passedOver,
    ).toBeUndefined();
  });
});
