import { describe, expect, it } from 'vitest';
import { casesOf, gapOf, QUESTIONS } from './reference-cases.ts';

describe('the cases for other systems', () => {
  it('repeat with their seed and answer with finite numbers', () => {
    const cases = casesOf(7, 3);
    expect(cases).toHaveLength(3 * QUESTIONS.length);
    expect(casesOf(7, 3).map((c) => c.args)).toEqual(cases.map((c) => c.args));
    for (const { question, args, ours } of cases) {
      expect(ours.every(Number.isFinite), `${question.name}(${args})`).toBe(true);
    }
  });

  it('notice an answer that is off, or missing', () => {
    const question = QUESTIONS[0]!;
    expect(gapOf(question, [2], [2])).toBe(0);
    expect(gapOf(question, [2], [2.1])).toBeGreaterThan(question.within);
    expect(gapOf(question, [2], [])).toBe(Infinity);
    expect(gapOf(question, [2], [Number.NaN])).toBeNaN();
  });
});
