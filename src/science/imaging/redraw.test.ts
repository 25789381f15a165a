import { describe, expect, it } from 'vitest';
import { measureOutline } from './feret.ts';
import type { Point } from './finding.ts';
import { cutOutline, mergeOutlines, splitOutline } from './redraw.ts';

const disc = (cx: number, cy: number, r: number): Point[] =>
  Array.from({ length: 90 }, (_, i) => {
    const t = (2 * Math.PI * i) / 90;
    return [cx + r * Math.cos(t), cy + r * Math.sin(t)] as const;
  });
const area = (o: readonly Point[]) => measureOutline(o).area;

describe('redrawing outlines', () => {
  it('merges touching discs into one and takes them apart again at the neck', () => {
    const one = mergeOutlines([disc(20, 20, 10), disc(38, 20, 10)]);
    expect(area(one)).toBeGreaterThan(600);
    const parts = splitOutline(one);
    expect(parts).toHaveLength(2);
    for (const p of parts) expect(Math.abs(area(p) / (100 * Math.PI) - 1)).toBeLessThan(0.06);
  });

  it('bridges a small gap and refuses a large one', () => {
    const bridged = mergeOutlines([disc(20, 20, 10), disc(43, 20, 10)]);
    expect(measureOutline(bridged).feretMax).toBeGreaterThan(42.5);
    expect(() => mergeOutlines([disc(20, 20, 5), disc(120, 20, 5)])).toThrow(RangeError);
  });

  it('leaves a single disc whole', () => {
    expect(splitOutline(disc(20, 20, 10))).toHaveLength(1);
  });

  it('cuts along a line, areas adding up', () => {
    const whole = disc(20, 20, 10);
    const [p, q] = cutOutline(whole, [15, 0], [15, 40]);
    expect(area(p!) + area(q!)).toBeCloseTo(area(whole), 6);
    expect(cutOutline(whole, [100, 0], [100, 40])).toHaveLength(1);
  });
});
