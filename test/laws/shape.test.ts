import { describe, expect, it } from 'vitest';
import { isTest, type SourceFile, sourceFiles } from './source-files.ts';

const LONGEST = 400;
const EMPTY_NAMES = /(^|\/)(utils?|helpers?|common|misc|types|manager)(\.|\/)/;
const BRAND =
  /\bas (Micrometres|Millimetres|Pixels|MicrometresPerPixel|Grams|Millilitres|Celsius|Seconds|Minutes|Count|Fraction)\b/;

const lines = (file: SourceFile): number => file.text.split('\n').length - 1;
const tooLong = (file: SourceFile): boolean => lines(file) > LONGEST;
const emptyName = (file: SourceFile): boolean => EMPTY_NAMES.test(file.path);
const castsBrand = (file: SourceFile): boolean =>
  !file.path.startsWith('src/units/') && BRAND.test(file.text);

describe('files', () => {
  const all = ['src', 'demo', 'test', 'bench-times'].flatMap(sourceFiles);
  const sources = all.filter((f) => f.path.startsWith('src/') && !isTest(f));

  it(`are read in one sitting (at most ${LONGEST} lines)`, () => {
    expect(all.filter(tooLong).map((f) => `${f.path} ${lines(f)}`)).toEqual([]);
    expect(tooLong({ path: 'x.ts', text: 'a\n'.repeat(LONGEST + 1) })).toBe(true);
  });

  it('are named by the trade', () => {
    expect(all.filter(emptyName).map((f) => f.path)).toEqual([]);
    expect(emptyName({ path: 'src/study/utils.ts', text: '' })).toBe(true);
  });

  it('make units only in units/', () => {
    expect(sources.filter(castsBrand).map((f) => f.path)).toEqual([]);
    expect(castsBrand({ path: 'src/study/x.ts', text: 'const a = 3 as Grams' })).toBe(true);
  });
});
