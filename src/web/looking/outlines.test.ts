import { describe, expect, it } from 'vitest';
import { type Outline, outlineAt } from './outlines.ts';

const outline = (id: string, box: Outline['box'], area: number): Outline => ({
  id,
  box,
  area,
  stands: 'undecided',
  points: new Float32Array(),
});

describe('outlineAt', () => {
  const all = [outline('large', [0, 0, 100, 100], 9000), outline('small', [40, 40, 50, 50], 80)];
  it('takes the smaller of two that hold the point', () => {
    expect(outlineAt(all, 45, 45, 0)?.id).toBe('small');
    expect(outlineAt(all, 5, 5, 0)?.id).toBe('large');
  });
  it('reaches a little outside and gives null beyond', () => {
    expect(outlineAt(all, 103, 50, 5)?.id).toBe('large');
    expect(outlineAt(all, 130, 50, 5)).toBeNull();
  });
});
