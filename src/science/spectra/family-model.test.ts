import { describe, expect, it } from 'vitest';
import { chanceFrom } from '../maths/index.ts';
import { solvePositive } from './cholesky.ts';
import { fitFamilies } from './family-model.ts';
import { standardise } from './representation.ts';

it('the likeness of two views is Pearson’s r', () => {
  // r = 0.8 for these two, by hand: Σ(x−3)(y−3) = 8, Σ(x−3)² = Σ(y−3)² = 10.
  const counts = new Uint8Array(5).fill(1);
  const a = Float64Array.from([1, 2, 3, 4, 5]);
  const b = Float64Array.from([2, 1, 4, 3, 5]);
  standardise(a, counts);
  standardise(b, counts);
  expect(a.reduce((sum, v, k) => sum + v * b[k]!, 0)).toBeCloseTo(0.8, 12);
});

describe('the family model', () => {
  const chance = chanceFrom(7);
  const points = 40;
  const family = [0, 0, 0, 1, 1, 2, 2, 2, 2];
  const rows = family.map((f) =>
    Float64Array.from({ length: points }, (_, k) => Math.sin((f + 1) * k) + 0.8 * (chance.uniform() - 0.5)),
  );
  const counts = new Uint8Array(points).fill(1);
  const ridge = 0.3;
  const model = fitFamilies({ rows, family, families: 3, points }, counts, ridge);

  it('scores a reference without its own family as a fit without it does', () => {
    const n = family.length;
    const sizes = [3, 2, 4];
    for (const left of [0, 1, 2]) {
      const kept = family.flatMap((f, i) => (f === left ? [] : [i]));
      const k = kept.length;
      const system = new Float64Array(k * k);
      const answer = new Float64Array(k * 3);
      for (const [p, i] of kept.entries()) {
        for (const [q, j] of kept.entries()) system[p * k + q] = model.likeness[i * n + j]!;
        system[p * k + p]! += ridge * ((sizes[family[i]!]! * 3) / n) + 1e-9;
        for (let c = 0; c < 3; c++) answer[p * 3 + c] = (c === family[i] ? 1 : 0) - 1 / 3;
      }
      solvePositive(system, k, answer, 3);
      for (const [i, f] of family.entries()) {
        if (f !== left) continue;
        for (let c = 0; c < 3; c++) {
          let score = 0;
          for (const [p, j] of kept.entries()) score += model.likeness[i * n + j]! * answer[p * 3 + c]!;
          expect(model.withoutOwn[i * 3 + c]).toBeCloseTo(score, 9);
        }
      }
    }
  });

  it('refuses a matrix that is not positive definite', () => {
    expect(() => solvePositive(Float64Array.from([1, 2, 2, 1]), 2, new Float64Array(2), 1)).toThrow(
      RangeError,
    );
  });
});
