// @vitest-environment jsdom
import { describe, expect, it } from 'vitest';
import { lookedShares } from './looked-shares.ts';
import { type PartNet, partNets } from './part-nets.ts';
import { sightCurve } from './sight-curve.ts';
import { type Way, waysToJudge } from './ways-to-judge.ts';

const read = (svg: string) => {
  const page = new DOMParser().parseFromString(svg, 'image/svg+xml');
  expect(page.querySelector('parsererror')).toBeNull();
  expect(svg).not.toContain('NaN');
  return page;
};
const number = (element: Element | null, name: string) => Number(element!.getAttribute(name));

describe('nets of parts', () => {
  const row = (more: Partial<PartNet>): PartNet => ({
    label: 'fibre, blue',
    counts: { specimens: 9, controls: 2 },
    because: null,
    value: 4,
    lower: 1,
    upper: 8,
    total: false,
    ...more,
  });
  const drawn = (rows: PartNet[], width = 700) =>
    read(partNets({ title: 'By size', rows, unit: 'per gram', confidence: 0.95, width, name: 'parts' }));

  it.each([700, 320])('places each value inside its interval in proportion at %d px', (width) => {
    const page = drawn([row({})], width);
    const line = page.querySelector('.interval');
    const [from, to] = [number(line, 'x1'), number(line, 'x2')];
    expect((number(page.querySelector('.value'), 'cx') - from) / (to - from)).toBeCloseTo(3 / 7, 2);
  });

  it('shows a negative part as such, left of nought', () => {
    const page = drawn([row({}), row({ label: '<bead>', value: -2, lower: -5, upper: 1 })]);
    const negative = page.querySelector('.negative');
    expect(number(negative, 'cx')).toBeLessThan(number(page.querySelector('.value'), 'cx'));
    expect(page.querySelector('desc')!.textContent).toContain('−2 per gram, −5 to 1 (95 %), below nought');
  });

  it('never draws “could not be seen” as none', () => {
    const page = drawn([
      row({ counts: null, because: 'could not be seen', value: null, lower: null, upper: null }),
      row({ counts: { specimens: 0, controls: 0 }, value: 0, lower: -1, upper: 1 }),
    ]);
    expect(page.querySelectorAll('.not-seen')).toHaveLength(1);
    expect(page.querySelectorAll('.value')).toHaveLength(1);
    expect(page.querySelector('desc')!.textContent).toContain('could not be seen');
  });
});

describe('ways to judge', () => {
  const way = (more: Partial<Way>): Way => ({
    label: 'another test',
    value: 3,
    lower: 1,
    upper: 6,
    above: true,
    agrees: true,
    base: false,
    ...more,
  });

  it('puts the lowest net first and marks what disagrees', () => {
    const page = read(
      waysToJudge({
        ways: [
          way({ base: true }),
          way({ label: 'without A & B', value: 1, lower: -1, above: false, agrees: false }),
          way({ value: 5 }),
        ],
        unit: 'per gram',
        width: 600,
        name: 'ways',
      }),
    );
    const all = [...page.querySelectorAll('.way')];
    expect(all.map((g) => g.classList.contains('differs'))).toEqual([true, false, false]);
    expect(page.querySelector('desc')!.textContent).toBe(
      '1 of 2 ways read as the claim does; net from 1 to 5 per gram. Otherwise: without A & B.',
    );
  });
});

describe('what was looked at', () => {
  it('multiplies passed and photographed, and keeps three zeros apart', () => {
    const page = read(
      lookedShares({
        runs: [
          { name: 'S1', href: '/runs/1', passed: 0.8, examined: 0.5, count: '12' },
          { name: 'S2', href: null, passed: null, examined: 1, count: 'none seen' },
          { name: 'S3', href: null, passed: null, examined: null, count: 'not looked' },
        ],
        width: 700,
        name: 'looked',
      }),
    );
    const whole = number(page.querySelector('.whole'), 'width');
    expect(number(page.querySelector('.counted'), 'width') / whole).toBeCloseTo(0.4, 3);
    expect(number(page.querySelector('.passed'), 'width') / whole).toBeCloseTo(0.8, 3);
    expect(page.querySelectorAll('.counted')).toHaveLength(2);
    expect(page.querySelectorAll('.not-looked')).toHaveLength(1);
    expect(page.querySelector('desc')!.textContent).toContain(
      'S2: passed not recorded, 100 % of that photographed; none seen.',
    );
  });
});

describe('chance to be seen', () => {
  it('marks the smallest releases seen on the curve’s own scale', () => {
    const page = read(
      sightCurve({
        curve: [0, 5, 10].map((r) => ({ release_per_gram: r, chance_above: 0.05 + 0.09 * r })),
        release: 6,
        smallest80: 8,
        smallest95: 10,
        width: 500,
        name: 'sight',
      }),
    );
    const [eighty, ninetyFive] = [...page.querySelectorAll('.smallest')].map((c) => number(c, 'cx'));
    const expected = number(page.querySelector('.expected'), 'x1');
    expect((eighty! - expected) / (ninetyFive! - expected)).toBeCloseTo(0.5, 2);
    expect(page.querySelector('desc')!.textContent).toContain('8 per gram is seen with 80 % chance');
  });
});
