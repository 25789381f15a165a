import { describe, expect, it } from 'vitest';
import { resultLines } from './evidence-answers.ts';

const A = '01a21335-f8d8-72a6-9dff-6ddf3fcb3e64';
const B = '01a21335-fb61-7aae-8eb6-5da1d8614d04';

describe('a table of results', () => {
  it('is read by its headings, whatever their order, case and a byte order mark; lines count from the heading', () => {
    const read = resultLines(
      `\uFEFFplace,Material,PARTICLE\n1,"poly,ethylene",${A}\n\n2,,${B}\n3,cotton,${B.toUpperCase()}\n`,
    );
    expect(read.ok && read.value).toEqual([
      { line: 2, particle: A, material: 'poly,ethylene' },
      { line: 4, particle: B, material: 'cotton' },
    ]);
  });

  it.each([
    ['', 'columns-missing', /has none/],
    ['a,b\n1,2\n', 'columns-missing', /it has a, b/],
    [`particle,material\n37,cotton\n`, 'not-an-id', /^Line 2: “37” is no particle’s id/],
  ])('refuses %j (%s)', (csv, why, message) => {
    const read = resultLines(csv);
    expect(read.ok ? 'read' : read.refusal.why).toBe(why);
    expect(!read.ok && read.refusal.message).toMatch(message);
  });

  it('a megabyte of one line is a refusal, not a crash', () => {
    expect(resultLines('x'.repeat(900_000)).ok).toBe(false);
  });
});
