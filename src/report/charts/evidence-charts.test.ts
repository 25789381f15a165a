import { describe, expect, it } from 'vitest';
import { finderChart, landmarksOf, rateBars } from './index.ts';

describe('the finder chart', () => {
  const square = (x: number, y: number) =>
    [
      [x, y],
      [x + 10, y],
      [x + 10, y + 10],
    ] as const;
  const chart = finderChart(
    {
      name: 'a<b.png',
      widthPx: 2000,
      heightPx: 1000,
      umPerPx: 5,
      pieces: [{ label: '37', outlinePx: square(900, 400), centrePx: [905, 405] }],
      landmarks: [{ label: 'A', outlinePx: square(10, 10), centrePx: [15, 15] }],
      others: [],
    },
    1052,
  );

  it('numbers pieces where they lie, names landmarks, and carries a scale bar', () => {
    // (1052 − 52) / 2000 = half a unit a pixel
    expect(chart).toContain('cx="478.5" cy="228.5"');
    expect(chart).toMatch(/>37<\/text>/);
    expect(chart).toMatch(/>A<\/text>/);
    expect(chart).toMatch(/>2 mm<\/text>/);
    expect(chart).toContain('a&lt;b.png');
  });

  it('takes landmarks that span most', () => {
    const at = (x: number, y: number) => ({ centrePx: [x, y] as const, size: 10 });
    const found = landmarksOf([at(0, 0), at(5, 5), at(100, 0), at(0, 100), at(6, 4)]);
    expect(found.map((one) => one.centrePx)).toEqual([
      [0, 0],
      [100, 0],
      [0, 100],
    ]);
    expect(landmarksOf([at(1, 1)])).toHaveLength(1);
  });

  it('takes landmarks clear of numbered pieces, where three are there', () => {
    const at = (x: number, y: number) => ({ centrePx: [x, y] as const, size: 10 });
    const some = [at(0, 0), at(100, 0), at(0, 100), at(98, 4), at(50, 0)];
    const places = (numbered: { centrePx: readonly [number, number]; size: number }[]) =>
      landmarksOf(some, numbered, 200).map((one) => one.centrePx);
    expect(places([at(101, 2)])).toEqual([
      [0, 0],
      [0, 100],
      [50, 0],
    ]);
    expect(places([at(101, 2), at(0, 98), at(52, 2)])).toHaveLength(3);
  });
});

describe('rates', () => {
  it('draws nothing shown as a broken line, never as none', () => {
    const bars = rateBars(
      [
        {
          name: 'plastics kept',
          rate: { value: 0.9, lower: 0.7, upper: 0.98 },
          says: '18 of 20',
          wants: 'high',
        },
        { name: 'starch kept', rate: null, says: 'none shown', wants: 'low' },
      ],
      800,
      'Rates',
    );
    expect(bars).toContain('stroke-dasharray');
    expect(bars).toContain('starch kept: nothing shown.');
    expect(bars).toContain('18 of 20, 70 to 98 per cent.');
    // 220 + 0.9 × 488
    expect(bars).toContain('cx="659.2"');
  });
});
