import { describe, expect, it } from 'vitest';
import { tries } from './tries.ts';

describe('tries', () => {
  it('are refused beyond so many within the window, and allowed again after it', () => {
    const three = tries(3, 1000);
    expect([0, 1, 2, 3].map((at) => three.allow('a', at))).toEqual([true, true, true, false]);
    expect(three.allow('b', 3)).toBe(true);
    expect(three.allow('a', 1500)).toBe(true);
  });

  it('take back the one that succeeded and no other, so that nobody begins anew by succeeding now and then', () => {
    const three = tries(3, 1000);
    const succeed = () => {
      expect(three.allow('a', 0)).toBe(true);
      three.takeBack('a');
    };
    for (let k = 0; k < 10; k++) succeed();
    expect([three.allow('a', 0), three.allow('a', 0)]).toEqual([true, true]);
    succeed();
    expect([three.allow('a', 0), three.allow('a', 0)]).toEqual([true, false]);
  });
});
