/** Load on the queue: thousands of photographs over two workers. */
import pg from 'pg';
import sharp from 'sharp';
import { plainFilter } from '../journeys/plain-filter.ts';
import type { Group, Person } from './group.ts';
import { bring, makeStudy } from './group-study.ts';
import { processorOf } from './processor.ts';

/** Twelve files, one for each place on a filter. */
export type Drawn = () => Promise<readonly Uint8Array[]>;

/** About a tenth of a second of processor each, so that thousands are through within minutes. */
const SMALL = { widthPx: 260, pieces: 6 };

export const PHOTOS_A_FILTER = 12;
const FILTERS_A_STUDY = 84;
/** Photographs brought at the same time. */
const HANDS = 4;
/** No queue here takes so long. */
const MOST_MS = 3_600_000;
/** One core a worker: two on a machine with two cores have no more of it each than one had. */
export const ONE_CORE = ['--cores', '1'];

const smallPhotographs: Drawn = () =>
  Promise.all(
    Array.from({ length: PHOTOS_A_FILTER }, async (_, k) => {
      const whole = await plainFilter(SMALL.pieces, k + 1);
      return sharp(whole).resize(SMALL.widthPx).jpeg({ quality: 92 }).toBuffer();
    }),
  );

/** A comment in the file makes each one its own. */
function ownCopy(file: Uint8Array, n: number): Uint8Array {
  const word = Buffer.from(`photograph ${n}`);
  const comment = Buffer.from([0xff, 0xfe, 0, word.length + 2]);
  return new Uint8Array(Buffer.concat([file.subarray(0, 2), comment, word, file.subarray(2)]));
}

/** Brings photographs, twelve to a filter, in as many studies as that takes. */
export async function bringer(
  owner: Person,
  drawn: Drawn,
  most: number,
): Promise<(n: number) => Promise<string[]>> {
  const files = await drawn();
  const filters: string[] = [];
  for (let left = Math.ceil(most / PHOTOS_A_FILTER); left > 0; left -= FILTERS_A_STUDY) {
    const name = `Queue ${filters.length}`;
    filters.push(...(await makeStudy(owner, name, Math.min(left, FILTERS_A_STUDY))).filters);
  }
  let made = 0;
  return async (n) => {
    const ids: string[] = [];
    const end = made + n;
    const hand = async (): Promise<void> => {
      while (made < end) {
        const k = made++;
        const filter = filters[Math.floor(k / PHOTOS_A_FILTER)]!;
        ids.push(await bring(owner, filter, ownCopy(files[k % files.length]!, k), `queued ${k}.jpg`));
      }
    };
    await Promise.all(Array.from({ length: HANDS }, hand));
    return ids;
  };
}

/** Workers of one core each, with what they had taken of the processor when they had started. */
async function begin(group: Group, workers: number): Promise<{ took(): number; stop(): Promise<void> }> {
  const crew = await Promise.all(Array.from({ length: workers }, () => group.worker({}, ...ONE_CORE)));
  const sum = (): number => crew.reduce((all, one) => all + processorOf(one.pid), 0);
  const before = sum();
  return {
    took: () => sum() - before,
    stop: async () => void (await Promise.all(crew.map((one) => one.stop()))),
  };
}

/** Looks at how searches ended, by the records; asked of the database itself, so that the server is not kept busy. */
export async function openRecords(group: Group): Promise<pg.Client> {
  const client = new pg.Client({ connectionString: group.database });
  await client.connect();
  return client;
}

/** Waits until all are over. Seconds since the epoch at which each was, earliest first. */
export async function endsOf(records: pg.Client, photos: readonly string[]): Promise<number[]> {
  await overAmong(records, photos, photos.length);
  const { rows } = await records.query<{ at: string }>(
    'select extract(epoch from at) as at from photo_search where photo = any($1) order by 1',
    [photos],
  );
  return rows.map(({ at }) => Number(at));
}

/** Waits until so many of these are over. How many are then. */
export async function overAmong(
  records: pg.Client,
  photos: readonly string[],
  wanted: number,
): Promise<number> {
  for (const end = Date.now() + MOST_MS; ; ) {
    const { rows } = await records.query<{ over: number }>(
      `select count(*)::int as over from photo_search
       where photo = any($1) and state in ('searched', 'refused', 'set-aside')`,
      [photos],
    );
    const { over } = rows[0]!;
    if (over >= wanted) return over;
    if (Date.now() > end) throw new Error(`${over} of ${photos.length} photographs were searched`);
    await new Promise((resume) => setTimeout(resume, 500));
  }
}

/** Photographs that were not searched, tried again, or found on twice. */
export async function amissAmong(
  records: pg.Client,
  photos: readonly string[],
): Promise<Pick<WholeQueue, 'unsearched' | 'again' | 'doubled'>> {
  const { rows } = await records.query<{ unsearched: number; again: number; doubled: number }>(
    `select count(*) filter (where state <> 'searched')::int as unsearched,
            count(*) filter (where tries > 1)::int as again,
            coalesce(sum((select count(*) - 1 from finding f where f.photo = s.photo)), 0)::int as doubled
     from photo_search s where photo = any($1)`,
    [photos],
  );
  return rows[0]!;
}

export interface WholeQueue {
  readonly photos: number;
  /** Seconds of processor of the workers, for one photograph. */
  readonly processorS: number;
  readonly bringPerSecond: number;
  readonly perSecond: number;
  /** Photographs a second in each fifth of the queue, in the order of their ends. */
  readonly fifths: readonly number[];
  readonly unsearched: number;
  readonly again: number;
  readonly doubled: number;
}

/** So many photographs are queued before two workers begin; they work them off. */
export async function wholeQueue(group: Group, owner: Person, photos: number): Promise<WholeQueue> {
  const bringSome = await bringer(owner, smallPhotographs, photos);
  const brought = performance.now();
  const own = await bringSome(photos);
  const bringPerSecond = photos / ((performance.now() - brought) / 1000);
  const from = Date.now() / 1000;
  const crew = await begin(group, 2);
  const records = await openRecords(group);
  try {
    const at = await endsOf(records, own);
    const processorS = crew.took() / photos;
    const fifth = Math.floor(photos / 5);
    const fifths = [0, 1, 2, 3, 4].map((k) => {
      const begun = k === 0 ? from : at[k * fifth - 1]!;
      return fifth / (at[(k + 1) * fifth - 1]! - begun);
    });
    const amiss = await amissAmong(records, own);
    return { photos, processorS, bringPerSecond, perSecond: photos / (at.at(-1)! - from), fifths, ...amiss };
  } finally {
    await records.end();
    await crew.stop();
  }
}
