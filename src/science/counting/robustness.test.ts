import { describe, expect, it } from 'vitest';
import {
  type CountingInput,
  massBalance,
  massFromOutlines,
  type OutlinedPiece,
  robustness,
  volumeUm3,
} from './index.ts';

const run = (name: string, count: number) => ({
  name,
  kind: 'act control',
  count,
  massG: 1,
  passed: 1,
  examined: 1,
});
const input = (portions: number[], controls: number[]): CountingInput => ({
  portions: portions.map((n, i) => run(`S${i + 1}`, n)),
  controls: controls.map((n, i) => run(`C${i + 1}`, n)),
  recovery: null,
  drill: null,
  confidence: 0.95,
});

describe('robustness', () => {
  it('a clear excess stands under every choice', () => {
    const found = robustness(input([24, 31, 22, 27, 29], [2, 3, 1, 4, 2]), []);
    expect(found.base.above).toBe(true);
    expect(found.judged).toBe(found.rows.length);
    expect(found.rows.filter((r) => r.what === 'one run left out')).toHaveLength(10);
    expect(found.agreeing).toBe(found.judged);
    expect(found.span!.lowest).toBeGreaterThan(20);
    expect(found.span!.highest).toBeLessThan(30);
  });

  it('one that hangs on a single run shows it', () => {
    const found = robustness(input([9, 0, 1], [1, 0]), []);
    const without = found.rows.find((r) => r.choice.includes('S1'))!;
    expect(without.above).toBe(false);
    expect(found.span!.lowest).toBeLessThan(1);
  });

  it('takes choices of others, and a choice that cannot be judged is said, not counted', () => {
    const base = input([9, 8, 9, 10], [1, 2, 1, 0]);
    const found = robustness(base, [
      { what: 'undecided pieces', choice: 'out', input: input([4, 5, 3, 4], [1, 2, 1, 0]) },
      { what: 'controls', choice: 'none of them', input: { ...base, controls: [] } },
    ]);
    const none = found.rows.find((r) => r.choice === 'none of them')!;
    expect(none.above).toBeNull();
    expect(none.refusal).toMatch(/no control run/);
    expect(found.judged).toBe(found.rows.length - 1);
    expect(found.rows.find((r) => r.what === 'undecided pieces')!.netPerGram!.value).toBeCloseTo(3, 12);
  });
});

const piece = (more: Partial<OutlinedPiece> = {}): OutlinedPiece => ({
  shape: 'fragment',
  areaUm2: 10_000,
  feretMaxUm: 150,
  feretMinUm: 90,
  fibreLengthUm: null,
  fibreWidthUm: null,
  ...more,
});
const wish = {
  densityGPerMl: { lowest: 0.92, highest: 0.96 },
  sizeFloorUm: 80,
  filmThicknessUm: null,
  confidence: 0.95,
};

describe('mass from outlines', () => {
  it('volumes: a bead of 100 µm, a fibre of 20 × 1000 µm, a film of 10 µm, a fragment by 0.34·F·A (Hagelskjær et al. 2025)', () => {
    const bead = piece({ shape: 'bead', areaUm2: Math.PI * 50 ** 2 });
    expect(volumeUm3(bead, null)).toBeCloseTo((Math.PI / 6) * 100 ** 3, 6);
    const fibre = piece({ shape: 'fibre', fibreLengthUm: 1000, fibreWidthUm: 20 });
    expect(volumeUm3(fibre, null)).toBeCloseTo(Math.PI * 100 * 1000, 6);
    expect(volumeUm3(piece({ shape: 'film' }), 10)).toBe(100_000);
    expect(volumeUm3(piece(), null)).toBeCloseTo(0.34 * 90 * 10_000, 6);
  });

  it('adds up in micrograms, with an interval about a factor of two wide for like pieces', () => {
    const found = massFromOutlines(
      Array.from({ length: 20 }, () => piece()),
      wish,
    );
    if (!found.ok) throw new Error(found.refusal.message);
    const each = 0.34 * 90 * 10_000 * Math.sqrt(0.92 * 0.96) * 1e-6;
    expect(found.value.micrograms.value).toBeCloseTo(20 * each, 12);
    const reach = found.value.micrograms.upper / found.value.micrograms.value;
    expect(reach).toBeGreaterThan(1.5);
    expect(reach).toBeLessThan(2.5);
    expect(found.value.topFive).toBeCloseTo(0.25, 12);
  });

  it('is wider when a few large pieces hold the mass', () => {
    const even = massFromOutlines(
      Array.from({ length: 20 }, () => piece()),
      wish,
    );
    const uneven = massFromOutlines(
      [
        piece({ areaUm2: 1e6, feretMaxUm: 1500, feretMinUm: 900 }),
        ...Array.from({ length: 19 }, () => piece()),
      ],
      wish,
    );
    if (!even.ok || !uneven.ok) throw new Error('refused');
    const reach = (m: typeof even.value) => m.micrograms.upper / m.micrograms.value;
    expect(reach(uneven.value)).toBeGreaterThan(reach(even.value));
    expect(uneven.value.topFive).toBeGreaterThan(0.98);
  });

  it('is refused below ten pieces above the floor, without a floor, without a density', () => {
    const nine = [
      ...Array.from({ length: 9 }, () => piece()),
      ...Array.from({ length: 30 }, () => piece({ feretMaxUm: 70 })),
    ];
    const few = massFromOutlines(nine, wish);
    expect(!few.ok && few.refusal).toMatchObject({ why: 'too-few-pieces', pieces: 39 });
    const many = Array.from({ length: 20 }, () => piece());
    const floorless = massFromOutlines(many, { ...wish, sizeFloorUm: 0 });
    expect(!floorless.ok && floorless.refusal.why).toBe('no-size-floor');
    const weightless = massFromOutlines(many, { ...wish, densityGPerMl: { lowest: 0, highest: 1 } });
    expect(!weightless.ok && weightless.refusal.why).toBe('density-missing');
  });
});

describe('mass balance', () => {
  const released = { value: 100, lower: 50, upper: 200, confidence: 0.95 };
  it('alarms when more was released than lost', () => {
    expect(massBalance(released, { value: 20, uncertainty: 5 }).verdict).toBe('more than was lost');
    expect(massBalance(released, { value: 400, uncertainty: 5 })).toMatchObject({
      verdict: 'within what was lost',
      share: 0.25,
    });
    expect(massBalance(released, { value: 40, uncertainty: 100 }).verdict).toBe('balance cannot tell');
  });
});
