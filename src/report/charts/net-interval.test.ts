// @vitest-environment jsdom
import { describe, expect, it } from 'vitest';
import { type NetInterval, netInterval } from './net-interval.ts';

const drawn = (more: Partial<NetInterval>) => {
  const page = new DOMParser().parseFromString(
    netInterval({
      rows: [{ label: 'Worn board', value: 9, lower: 4, upper: 15, main: true }],
      unit: 'particles per gram',
      confidence: 0.95,
      detectable: null,
      width: 700,
      name: 'net',
      ...more,
    }),
    'image/svg+xml',
  );
  expect(page.querySelector('parsererror')).toBeNull();
  return page;
};
const number = (element: Element | null, name: string) => Number(element!.getAttribute(name));

describe('netInterval', () => {
  it('places the value inside its interval in proportion', () => {
    const page = drawn({});
    const line = page.querySelector('.interval.main');
    const from = number(line, 'x1');
    const to = number(line, 'x2');
    expect((number(page.querySelector('.value'), 'cx') - from) / (to - from)).toBeCloseTo(5 / 11, 2);
  });

  it('draws no dot where only a limit is known, and says so', () => {
    const page = drawn({ rows: [{ label: 'New board', value: null, lower: 0, upper: 2.1, main: true }] });
    expect(page.querySelector('.value')).toBeNull();
    expect(page.querySelector('desc')!.textContent).toBe(
      'New board: no more than 2.1 particles per gram (95 %).',
    );
  });

  it('keeps a net below nought on the picture: it is not clipped', () => {
    const page = drawn({ rows: [{ label: 'A', value: -1, lower: -4, upper: 3, main: true }] });
    expect(number(page.querySelector('.interval'), 'x1')).toBeGreaterThanOrEqual(0);
    expect(page.querySelector('desc')!.textContent).toContain('\u22124 to 3');
  });

  it('draws comparisons on the same axis, lighter', () => {
    const page = drawn({
      rows: [
        { label: 'Claim', value: 9, lower: 4, upper: 15, main: true },
        { label: 'Mean + 3 SD <rule>', value: 9, lower: 9, upper: 9, main: false },
      ],
    });
    expect(page.querySelectorAll('.interval')).toHaveLength(2);
    expect(page.querySelectorAll('.interval.main')).toHaveLength(1);
    expect(page.documentElement.textContent).toContain('Mean + 3 SD <rule>');
  });

  it('refuses to draw nothing', () => {
    expect(() => drawn({ rows: [] })).toThrow(RangeError);
  });
});
