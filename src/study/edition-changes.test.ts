import { describe, expect, it } from 'vitest';
import { amountWords, editionChanges } from './edition-changes.ts';
import type { Step } from './records/procedure.ts';

const step = (key: string, more: Partial<Step> = {}): Step => ({
  key,
  kind: 'rinse',
  quantities: {},
  touches: {
    vessel: null,
    tool: null,
    liquid: null,
    reagentLot: null,
    place: null,
    person: null,
    filterLot: null,
    optics: null,
  },
  minutesUncovered: null,
  openings: null,
  note: '',
  ...more,
});
const [a, b, c, d] = ['a', 'b', 'c', 'd'].map((key) => step(key)) as [Step, Step, Step, Step];

describe('what an edition changed', () => {
  it('is nothing when nothing was', () => {
    expect(editionChanges([a, b], [a, b])).toEqual([]);
  });

  it('names a quantity, a thing touched and the minutes open in sentences', () => {
    const before = step('digest', { kind: 'digest', quantities: { volume_ml: 400, minutes: 2880 } });
    const after = step('digest', {
      kind: 'digest',
      quantities: { volume_ml: 200, minutes: 2880, temperature_c: 40 },
      touches: { ...before.touches, reagentLot: 'K-2' },
      minutesUncovered: 2,
    });
    expect(editionChanges([before], [after])).toEqual([
      'Step “digest”: volume 200 mL instead of 400 mL.',
      'Step “digest”: temperature 40 °C instead of not said.',
      'Step “digest”: reagent lot “K-2” instead of not said.',
      'Step “digest”: stands open 2 min instead of not said.',
    ]);
  });

  it('says what was left out, put in and moved, and moves as few steps as it can', () => {
    expect(editionChanges([a, b, c], [a, c])).toEqual(['Step “b” is left out.']);
    expect(editionChanges([a, c], [a, b, c])).toEqual(['A step “b” (Rinse) is put in after “a”.']);
    expect(editionChanges([a, b, c, d], [d, a, b, c])).toEqual(['Step “d” now comes first.']);
    expect(editionChanges([a, b, c, d], [b, c, a, d])).toEqual(['Step “a” now comes after “c”.']);
  });

  it('reads amounts as people say them', () => {
    expect(amountWords('minutes', 2880)).toBe('2 days');
    expect(amountWords('minutes', 240)).toBe('4 h');
    expect(amountWords('minutes', 90)).toBe('90 min');
    expect(amountWords('times', 1)).toBe('once');
    expect(amountWords('pore_um', 20)).toBe('20 µm');
  });
});
