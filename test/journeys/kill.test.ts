/** Nothing acknowledged is lost when the process is killed at any moment, and the laboratory opens every time. */
import { describe, expect, it } from 'vitest';
import { killedOpenings, killRounds } from './kill-rounds.ts';

const ROUNDS = 30;
const SEED = 20_260_305;

describe('a process killed', () => {
  it.each(['import', 'mark', 'tap'] as const)(
    `during %s loses nothing that was acknowledged, ${ROUNDS} times (seed ${SEED})`,
    async (mode) => {
      const tally = await killRounds(mode, ROUNDS, SEED + mode.length);
      expect(tally.lost).toEqual([]);
      // The rounds would prove nothing had they been killed before they did anything.
      expect(tally.working).toBeGreaterThanOrEqual((ROUNDS * 5) / 6);
      expect(tally.acknowledged).toBeGreaterThan(ROUNDS);
      console.log(`${mode}: ${ROUNDS} kills, ${tally.acknowledged} acknowledged, 0 lost`);
    },
    900_000,
  );

  it('while it opens a laboratory of an earlier version leaves it whole', async () => {
    const tally = await killedOpenings(6, SEED);
    expect(tally.lost).toEqual([]);
    expect(tally.acknowledged).toBeGreaterThan(0);
  }, 900_000);
});
