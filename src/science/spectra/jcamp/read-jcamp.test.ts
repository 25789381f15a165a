import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { RawSpectrum } from '../spectrum.ts';
import { readJcamp } from './read-jcamp.ts';

const head = (more: string, table: string, form = '(X++(Y..Y))') =>
  `##TITLE= board\n##JCAMP-DX= 4.24\n##DATA TYPE= INFRARED SPECTRUM\n##XUNITS= 1/CM\n##YUNITS= ABSORBANCE\n${more}\n##XYDATA= ${form}\n${table}\n##END=\n`;
const TEN = '##FIRSTX= 400\n##LASTX= 418\n##NPOINTS= 10\n##FIRSTY= 1\n##XFACTOR= 1\n##YFACTOR= 1';

const one = (text: string): RawSpectrum => {
  const read = readJcamp(text, 'board.jdx');
  if (!read.ok) throw new Error(read.refusal.message);
  expect(read.value).toHaveLength(1);
  return read.value[0]!;
};
const why = (text: string): string => {
  const read = readJcamp(text, 'board.jdx');
  return read.ok ? 'read' : read.refusal.message;
};

describe('a table', () => {
  it('reads alike in every packing', () => {
    const ordinates = [1, 2, 3, 3, 2, 1, 0, -1, -2, -3];
    for (const table of [
      '400 1 2 3 3 2\n410 1 0 -1 -2 -3',
      '400+1+2+3+3+2\n410+1+0-1-2-3',
      '400ABCCB\n410A@abc',
      '400AJJ%j\n408Bjjjjj\n418c',
      '400AJT%j\n408BjW\n418c',
    ]) {
      const { x, y } = one(head(TEN, table));
      expect([...y], table).toEqual(ordinates);
      expect([...x]).toEqual(ordinates.map((_, k) => 400 + 2 * k));
    }
  });

  it('applies the factors of both axes', () => {
    const { x, y } = one(
      head(
        '##FIRSTX= 400\n##LASTX= 404\n##NPOINTS= 3\n##FIRSTY= .5\n##XFACTOR= .5\n##YFACTOR= .25',
        '800 2 4 6',
      ),
    );
    expect([...x]).toEqual([400, 402, 404]);
    expect([...y]).toEqual([0.5, 1, 1.5]);
  });

  it('takes pairs', () => {
    const { x, y } = one(head('##NPOINTS= 3', '400,1; 402,2\n405 3', '(XY..XY)'));
    expect([...x]).toEqual([400, 402, 405]);
    expect([...y]).toEqual([1, 2, 3]);
  });
});

describe('a damaged table names its line', () => {
  it('where a line in difference form is lost', () =>
    expect(why(head(TEN, '400AJJ%j\n412@jjj'))).toMatch(
      /Line 14: it begins with 0 where the line before ended with 2/,
    ));
  it('where a plain line is lost', () =>
    expect(why(head(TEN, '400 1 2 3\n412 0 -1 -2 -3'))).toMatch(
      /Line 14: its abscissa is 412 where 406 is due/,
    ));
  it('where the table stops early', () =>
    expect(why(head(TEN, '400 1 2 3 3 2'))).toMatch(/Line 13: the table ends after 5 of the 10/));
  it('where it runs on', () =>
    expect(why(head(TEN, '400 1 2 3 3 2\n410 1 0 -1 -2 -3 -4'))).toMatch(
      /Line 14: there are more ordinates/,
    ));
  it('where the first ordinate is another', () =>
    expect(why(head(TEN, '400 9 2 3 3 2\n410 1 0 -1 -2 -3'))).toMatch(/Line 13: the first ordinate is 9/));
  it('where LASTX belongs to another table', () =>
    expect(why(head(TEN.replace('418', '518'), '400 1 2 3 3 2\n410 1 0 -1 -2 -3'))).toMatch(
      /Line 14: its abscissa/,
    ));
  it('where an ordinate is missing', () =>
    expect(why(head(TEN, '400 1 2 ? 3 2\n410 1 0 -1 -2 -3'))).toMatch(/Line 13: “\?/));
  it('where a header is no number', () =>
    expect(why(head(TEN.replace('10', 'many'), '400 1'))).toMatch(/Line 8: NPOINTS is “many”/));
});

it('refuses a megabyte of other text at once', () => {
  expect(why('Lorem ipsum dolor sit amet. '.repeat(40_000))).toMatch(/is not JCAMP-DX/);
  expect(why('##TITLE= x\n##PEAK TABLE= (XY..XY)\n1,2\n##END=')).toMatch(/list of peaks/);
});

const FOLDER = '../shared/data/jcamp';
describe.skipIf(!existsSync(FOLDER))(`public test files (skipped where ${FOLDER} is absent)`, () => {
  const file = (name: string): RawSpectrum[] => {
    const read = readJcamp(readFileSync(`${FOLDER}/${name}.jdx`, 'latin1'), name);
    if (!read.ok) throw new Error(read.refusal.message);
    return read.value;
  };
  it.each([
    'dupdec1',
    'dupdec2',
    'dupinc1',
    'dupinc2',
    'fixdec1',
    'fixdec3',
    'fixinc1',
    'fixinc2',
    'fixinc3',
    'jtpolys',
    'jtpolysd',
    'pacdec1',
    'sqzdupd1',
    'xyinc1',
  ])('%s is read whole', (name) => expect(file(name)).toHaveLength(1));
  it('has five spectra in each compound file', () => {
    expect(file('compound')).toHaveLength(5);
    expect(file('blckpac1')).toHaveLength(5);
  });
  it('reads the plain and the packed form of one spectrum alike', () => {
    const [plain] = file('jtpolys');
    const [packed] = file('jtpolysd');
    expect(packed!.x).toHaveLength(1844);
    let worst = 0;
    for (let k = 0; k < 1844; k++) {
      expect(Math.abs(plain!.x[k]! - packed!.x[k]!)).toBeLessThan(2e-3);
      worst = Math.max(worst, Math.abs(plain!.y[k]! - packed!.y[k]!));
    }
    expect(worst).toBeLessThan(2e-5);
  });
  it('reads one substance alike in columns and in absorbance', () => {
    const [columns] = file('xyinc1');
    const [absorbance] = file('fixinc2');
    expect([...columns!.x]).toEqual([...absorbance!.x]);
    for (let k = 0; k < columns!.x.length; k += 50) {
      expect(-Math.log10(columns!.y[k]!)).toBeCloseTo(absorbance!.y[k]!, 2);
    }
  });
  it('refuses each of them with one line of its table taken out, and names the line', () => {
    for (const name of ['dupdec1', 'dupinc2', 'fixdec1', 'pacdec1', 'sqzdupd1', 'jtpolysd', 'xyinc1']) {
      const lines = readFileSync(`${FOLDER}/${name}.jdx`, 'latin1').split('\n');
      const from = lines.findIndex((line) => line.startsWith('##XYDATA'));
      lines.splice(from + 9, 1);
      expect(why(lines.join('\n')), name).toMatch(/Line \d+: /);
    }
  });
});
