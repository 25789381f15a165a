import { describe, expect, it } from 'vitest';
import { chanceFrom } from '../maths/index.ts';
import { solvePositive } from './cholesky.ts';
import { doubtfulReferences } from './doubtful.ts';
import { fitAgain, fitFamilies } from './family-model.ts';

const NAMES = ['a', 'b', 'c'];
const same = (p: string, q: string) => p === q;
const points = 60;
const counts = new Uint8Array(points).fill(1);

/** Rows that follow `shape`, labelled `family`. */
function model(family: readonly number[], shape: readonly number[]) {
  const chance = chanceFrom(11);
  const rows = shape.map((f) =>
    Float64Array.from({ length: points }, (_, k) => Math.sin((f + 1) * k) + 0.5 * (chance.uniform() - 0.5)),
  );
  return fitFamilies({ rows, family, families: 3, points }, counts, 0.3);
}
const each = (...sizes: number[]) => sizes.flatMap((n, f) => Array.from({ length: n }, () => f));

describe('a reference with a wrong label', () => {
  it('is found, and no other', () => {
    const family = each(6, 6, 6);
    const shape = family.map((f, k) => (k === 7 ? 2 : f));
    expect(doubtfulReferences(model(family, shape), NAMES, same)).toEqual([{ row: 7, like: 2 }]);
  });

  it('is not looked for in a family of fewer than five', () => {
    const family = each(6, 4, 6);
    const shape = family.map((f, k) => (k === 7 ? 2 : f));
    expect(doubtfulReferences(model(family, shape), NAMES, same)).toEqual([]);
  });

  it('is not called so where a third of the family is like another: the family is varied', () => {
    const family = each(6, 6, 6);
    const shape = family.map((f, k) => (k === 7 || k === 8 ? 2 : f));
    expect(doubtfulReferences(model(family, shape), NAMES, same)).toEqual([]);
  });

  it('is no matter between kin', () => {
    const family = each(6, 6, 6);
    const shape = family.map((f, k) => (k === 7 ? 2 : f));
    const kin = (p: string, q: string) => p === q || [p, q].sort().join('') === 'bc';
    expect(doubtfulReferences(model(family, shape), NAMES, kin)).toEqual([]);
  });
});

it('scores a reference without itself as a fit without it does', () => {
  const family = each(3, 2, 4);
  const whole = model(family, family);
  const n = family.length;
  const sizes = [3, 2, 4];
  for (const left of [0, 4, 8]) {
    const kept = family.map((_, i) => i).filter((i) => i !== left);
    const system = new Float64Array(kept.length ** 2);
    const answer = new Float64Array(kept.length * 3);
    for (const [p, i] of kept.entries()) {
      for (const [q, j] of kept.entries()) system[p * kept.length + q] = whole.likeness[i * n + j]!;
      system[p * kept.length + p]! += 0.3 * ((sizes[family[i]!]! * 3) / n) + 1e-9;
      for (let c = 0; c < 3; c++) answer[p * 3 + c] = (c === family[i] ? 1 : 0) - 1 / 3;
    }
    solvePositive(system, kept.length, answer, 3);
    for (let c = 0; c < 3; c++) {
      const score = kept.reduce((sum, i, p) => sum + whole.likeness[left * n + i]! * answer[p * 3 + c]!, 0);
      expect(whole.withoutItself[left * 3 + c]).toBeCloseTo(score, 9);
    }
  }
});

it('fitted again over some rows is the model of those rows alone', () => {
  const family = each(4, 3, 4);
  const whole = model(family, family);
  const kept = [0, 1, 3, 4, 6, 7, 9, 10];
  const again = fitAgain(whole, kept, 0.3);
  const alone = fitFamilies(
    { rows: kept.map((i) => whole.rows[i]!), family: kept.map((i) => family[i]!), families: 3, points },
    counts,
    0.3,
  );
  for (const [k, weight] of again.weights.entries()) expect(weight).toBeCloseTo(alone.weights[k]!, 9);
});
