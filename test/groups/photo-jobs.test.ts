/** The queue of photographs by itself, on a real server. */
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { photoJobs } from '../../src/store/index.ts';
import { type PostgresServer, postgresPrograms, startPostgres } from './postgres-server.ts';

const uuid = (k: number): string => `00000000-0000-4000-8000-${String(k).padStart(12, '0')}`;

describe.skipIf(postgresPrograms() === null)('the queue of photographs', () => {
  let server: PostgresServer;
  beforeAll(async () => {
    server = await startPostgres();
  });
  afterAll(() => server?.stop());

  const PHOTOS = 30;
  it.each([1, 3])('gives the next as soon as one is over, each once, to %i at once', async (atOnce) => {
    const database = server.database(`jobs_${atOnce}`);
    const pool = new pg.Pool({ connectionString: database, max: 2 });
    const troubles: string[] = [];
    const jobs = await photoJobs({ pool, database, log: (text) => troubles.push(text), keeps: true });
    for (let k = 0; k < PHOTOS; k++) await jobs.add({ photo: uuid(k), study: uuid(0), priority: -k });
    const taken: string[] = [];
    let [now, most] = [0, 0];
    const from = performance.now();
    await new Promise<void>((resolve, reject) => {
      jobs
        .work(
          async ({ photo }) => {
            most = Math.max(most, ++now);
            await new Promise((resume) => setTimeout(resume, 20));
            now--;
            taken.push(photo);
            if (taken.length === PHOTOS) resolve();
          },
          async (photo, reason) => reject(new Error(`${photo} was set aside: ${reason}`)),
          atOnce,
        )
        .catch(reject);
    });
    const seconds = (performance.now() - from) / 1000;
    await jobs.close();
    await pool.end();
    expect(troubles).toEqual([]);
    expect(new Set(taken).size).toBe(PHOTOS);
    expect(most).toBe(atOnce);
    if (atOnce === 1) expect(taken).toEqual(Array.from({ length: PHOTOS }, (_, k) => uuid(k)));
    // With a pause of half a second after each it would be fifteen, over three hands five.
    expect(seconds).toBeLessThan(15 / atOnce / 1.5);
  });
});
