import { describe, expect, it } from 'vitest';
import { chanceFrom, drawBelow } from '../science/maths/index.ts';
import type { CountedPiece } from '../study/index.ts';
import { largest, MOST_PIECES } from './claim-views.ts';

describe('pieces shown of a kind', () => {
  it('are the first of all sorted by size, of two alike the one that came first', () => {
    const chance = chanceFrom(3);
    for (let many = 0; many < 60; many++) {
      const pieces = Array.from({ length: many }, (_, number) => ({
        particle: { number, feretMaxUm: 10 * (1 + drawBelow(chance, 9)) },
      })) as unknown as CountedPiece[];
      const sorted = [...pieces].sort((a, b) => b.particle.feretMaxUm! - a.particle.feretMaxUm!);
      expect(largest(pieces)).toEqual(sorted.slice(0, MOST_PIECES));
    }
  });
});
