import { describe, expect, it } from 'vitest';
import { type DrawnFlow, flowCurve } from './index.ts';

const band = (value: number, lower: number, upper: number | null) => ({
  value,
  lower,
  upper,
  confidence: 0.9,
});
const flow: DrawnFlow = {
  marks: [
    { time_s: 30, volume_ml: 5 },
    { time_s: 75, volume_ml: 10 },
    { time_s: 140, volume_ml: 15 },
  ],
  curve: [5, 10, 15, 20, 25].map((v) => ({
    volume_ml: v,
    time_s: v < 25 ? band(v * 8, v * 7, v < 20 ? v * 10 : null) : null,
  })),
  capacity_ml: band(21, 18, 28),
  per_filter_ml: 14,
  total_ml: 200,
};

describe('the curve of a filtration', () => {
  const svg = flowCurve({ flow, width: 360, name: 'run 3' });

  it('has a dot for every mark, the line to change at, and words for those who do not see it', () => {
    expect(svg.match(/class="mark"/g)).toHaveLength(3);
    expect(svg).toContain('change the filter here: 14 mL');
    expect(svg).toMatch(
      /3 marks up to 15 mL after 140 s\..*about 21 mL, 18 to 28 mL \(90 %\)\..*200 mL are to be filtered/,
    );
  });

  it('says so when no ceiling is in sight', () => {
    const open = flowCurve({
      flow: { ...flow, capacity_ml: band(90, 40, null), per_filter_ml: null },
      width: 800,
      name: 'x',
    });
    expect(open).toContain('no ceiling is in sight, at least 40 mL');
    expect(open).not.toContain('change the filter here');
  });

  it('refuses a width that cannot be read', () => {
    expect(() => flowCurve({ flow, width: 100, name: 'x' })).toThrow(RangeError);
  });
});
