/** The short form of the faults campaign: each victim during each work, once. `npm run test:groups -- --faults N` is the long one. */
import { describe, expect, it } from 'vitest';
import { killedMigrations } from './fault-migrations.ts';
import { faultRounds } from './fault-rounds.ts';
import { postgresPrograms } from './postgres-server.ts';

const SEED = 20_261_201;

describe.skipIf(postgresPrograms() === null)('a group under faults', () => {
  it('loses and doubles nothing when server, worker or database is killed', async () => {
    const tallies = await faultRounds(1, SEED);
    for (const { work, victim, lost, doubled, amiss } of tallies) {
      expect({ work, victim, lost, doubled, amiss }).toEqual({
        work,
        victim,
        lost: [],
        doubled: [],
        amiss: [],
      });
    }
    expect(tallies).toHaveLength(9);
    expect(tallies.every(({ rounds }) => rounds === 1)).toBe(true);
    expect(tallies.reduce((sum, { acknowledged }) => sum + acknowledged, 0)).toBeGreaterThan(9);
  }, 600_000);

  it('is whole when program or database is killed while an earlier version is brought up to date', async () => {
    const tallies = await killedMigrations(2, SEED);
    expect(tallies.flatMap(({ lost }) => lost)).toEqual([]);
  }, 600_000);
});
