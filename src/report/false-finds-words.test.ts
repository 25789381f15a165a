import { describe, expect, it } from 'vitest';
import { falseFindsWords } from './index.ts';

describe('what the search was asked for', () => {
  it('is told with what it gave on own controls, or that this was not measured', () => {
    expect(falseFindsWords(0.5, 3, null)).toBe(
      'On 3 photographs the search was asked to accept 0.5 false finds on a photograph of an empty filter; what that gives on these membranes was not measured.',
    );
    const own = { photographs: 8, least: 0.25, most: 0.375, lower: 0.03, upper: 1.1, confidence: 0.95 };
    expect(falseFindsWords(1, 1, own)).toBe(
      'On 1 photograph the search was asked to accept 1 false find on a photograph of an empty filter; on 8 photographs of the study’s own controls it gave 0.25 to 0.375 (0.03 to 1.1 at 95 % confidence).',
    );
  });
});
