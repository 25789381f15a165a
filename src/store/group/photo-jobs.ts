/** The queue of photos in PostgreSQL, by a kept library, and word of what happens by the database's own notices. */
import type pg from 'pg';
import { type Job, PgBoss } from 'pg-boss';
import { type PhotoJobs, type SearchWord, TRIES } from '../../actions/index.ts';
import { notices } from './notices.ts';

const QUEUE = 'search-photo';
const ASIDE = 'photo-set-aside';
const CHANNEL = 'retentate_search';

/** A worker gives a sign of life every few seconds; silent for so long it is taken for dead and its photo given to another. */
const SILENT_S = 10;
const SIGN_S = 3;
/** A gigapixel filter takes minutes; no search takes hours. */
const LONGEST_S = 4 * 3600;

interface Wanted {
  readonly photo: string;
}

export interface JobsWish {
  readonly pool: pg.Pool;
  readonly database: string;
  readonly log: (text: string) => void;
  /** Whether this process looks after the queue (dead workers, old jobs); any number may. */
  readonly keeps: boolean;
}

export async function photoJobs({ pool, database, log, keeps }: JobsWish): Promise<PhotoJobs> {
  const boss = new PgBoss({
    connectionString: database,
    application_name: 'retentate-jobs',
    max: 4,
    schema: 'jobs',
    supervise: keeps,
    schedule: false,
    superviseIntervalSeconds: 3,
    monitorIntervalSeconds: 3,
  });
  boss.on('error', (failure: Error) => log(`queue: ${failure.message}`));
  await boss.start();
  await boss.createQueue(ASIDE, { retryLimit: 5, retryDelay: 2 });
  await boss.createQueue(QUEUE, {
    policy: 'exclusive',
    retryLimit: TRIES - 1,
    retryDelay: 1,
    expireInSeconds: LONGEST_S,
    heartbeatSeconds: SILENT_S,
    deadLetter: ASIDE,
  });
  let unlisten = (): void => {};

  return {
    async add({ photo, priority }) {
      await boss.send(QUEUE, { photo } satisfies Wanted, { singletonKey: photo, priority });
    },
    async work(take, setAside, atOnce = 1) {
      const reasons = new Map<string, string>();
      const hand = async (): Promise<void> => {
        let id = '';
        id = await boss.work(
          QUEUE,
          {
            batchSize: 1,
            pollingIntervalSeconds: 0.5,
            includeMetadata: true,
            heartbeatRefreshSeconds: SIGN_S,
          },
          async (drawn) => {
            // Where there was one photo there may be a next: it is asked for as soon as this one is over, without the pause.
            boss.notifyWorker(id);
            for (const { data, retryCount } of drawn) {
              const wanted = data as Wanted;
              try {
                await take(wanted, retryCount + 1);
              } catch (failure) {
                reasons.set(wanted.photo, failure instanceof Error ? failure.message : String(failure));
                throw failure;
              }
            }
          },
        );
      };
      for (let k = 0; k < atOnce; k++) await hand();
      await boss.work<Wanted>(ASIDE, { pollingIntervalSeconds: 1 }, async (jobs: Job<Wanted>[]) => {
        for (const { data } of jobs) {
          await setAside(
            data.photo,
            reasons.get(data.photo) ?? 'the program stopped each time it searched it',
          );
          reasons.delete(data.photo);
        }
      });
    },
    async tell(word) {
      await pool.query('select pg_notify($1, $2)', [CHANNEL, JSON.stringify(word)]);
    },
    async listen(hear, takenUp) {
      unlisten = await notices({
        pool,
        channel: CHANNEL,
        hear: (payload) => hear(JSON.parse(payload) as SearchWord),
        takenUp,
        log,
      });
    },
    async close() {
      unlisten();
      await boss.stop({ graceful: true, timeout: 20_000 });
    },
  };
}
