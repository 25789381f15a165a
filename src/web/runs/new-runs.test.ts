import { describe, expect, it } from 'vitest';
import { type NewRuns, nextNames, parts, runsWish } from './new-runs.ts';

const form: NewRuns = {
  kind: 'specimen-run',
  names: 'Run 1; Run 2',
  how: 'weighed',
  specimen: 's',
  masses: '1,02; 0.97',
  massIs: 'product-before',
  portion: '',
  edition: 'e',
  on: '2026-01-05',
  session: '',
  by: 'p',
  added: '',
  colour: '',
  size: '',
  note: '',
};

describe('new runs', () => {
  it('keeps a comma within a number and parts at a comma before a space', () => {
    expect(parts('1,02, 0,97;1.05\n2')).toEqual(['1,02', '0,97', '1.05', '2']);
  });
  it('gives each name its mass', () => {
    expect(runsWish(form)).toMatchObject({
      runs: [
        { name: 'Run 1', session: '1', weighed: { mass_g: 1.02 } },
        { name: 'Run 2', weighed: { mass_g: 0.97 } },
      ],
    });
  });
  it.each([
    [{ masses: '1' }, 'Masses: 2 numbers'],
    [{ masses: '1; -1' }, 'Masses: 2 numbers'],
    [{ names: ' ' }, 'Names'],
    [{ edition: '' }, 'procedure'],
    [{ how: 'portion' as const }, 'Portion'],
    [{ how: 'portion' as const, portion: 'q' }, 'one at a time'],
    [{ specimen: '' }, 'Specimen'],
    [{ kind: 'spiked-run' as const, added: '1.5' }, 'whole number'],
    [{ kind: 'spiked-run' as const, added: '10' }, 'Colour'],
    [{ kind: 'spiked-run' as const, added: '10', colour: 'blue', size: 'x' }, ''],
  ])('says what is missing: %o', (change, says) => {
    const wish = runsWish({ ...form, ...change });
    if (says === '') expect(wish).toMatchObject({ runs: [{ spike: { size_um: null } }, {}] });
    else expect(wish).toContain(says);
  });
  it('takes the next free names', () => {
    expect(nextNames('act-control', ['act control 1', 'Act control 3'], 2)).toBe(
      'Act control 2, Act control 4',
    );
  });
});
