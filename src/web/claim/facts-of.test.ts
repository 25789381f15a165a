import { describe, expect, it } from 'vitest';
import { inWords, readable } from './facts-of.tsx';

describe('figures named by the engine', () => {
  it('keeps the unit of a name', () => {
    expect(readable('decision_count')).toBe('Decision count');
    expect(readable('detection_limit_per_gram')).toBe('Detection limit per gram');
    expect(readable('floor_um')).toBe('Floor (µm)');
  });
  it('says null in words, never as nought', () => {
    expect(inWords(null)).toBe('not known');
    expect(inWords(0)).toBe('0');
    expect(inWords({ lower: 1, upper: null })).toBe('lower 1, upper not known');
  });
});
