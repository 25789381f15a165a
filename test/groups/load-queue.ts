/** Load on the queue: thousands of photographs over two workers, and one worker beside two. */
import { readFileSync } from 'node:fs';
import pg from 'pg';
import sharp from 'sharp';
import { chanceOf } from '../engines/chance.ts';
import { plainFilter } from '../journeys/plain-filter.ts';
import type { Group, Person, Worker } from './group.ts';
import { bring, makeStudy } from './group-study.ts';

/** Photographs of a printed filter with pieces on it; how much processor one takes is measured, not promised. */
export interface Kind {
  readonly widthPx: number;
  readonly pieces: number;
}
/** About a tenth of a second of processor each, so that thousands are through within minutes. */
export const SMALL: Kind = { widthPx: 260, pieces: 6 };
/** About half a second of processor each, so that the search outweighs the queue, as in practice. */
export const LARGE: Kind = { widthPx: 1300, pieces: 12 };

const PHOTOS_A_FILTER = 12;
const FILTERS_A_STUDY = 84;
/** Photographs brought at the same time. */
const HANDS = 4;
/** No queue here takes so long. */
const MOST_MS = 3_600_000;
/** One core a worker: two on a machine with two cores have no more of it each than one had. */
const ONE_CORE = ['--cores', '1'];

/** Drawn once for each place on a filter; a comment in the file makes each one's own. */
async function photographsOf({ widthPx, pieces }: Kind): Promise<(n: number) => Uint8Array> {
  const drawn: Buffer[] = [];
  for (let k = 0; k < PHOTOS_A_FILTER; k++) {
    const whole = await plainFilter(pieces, k + 1);
    drawn.push(await sharp(whole).resize(widthPx).jpeg({ quality: 92 }).toBuffer());
  }
  return (n) => {
    const file = drawn[n % PHOTOS_A_FILTER]!;
    const word = Buffer.from(`photograph ${widthPx} ${n}`);
    const comment = Buffer.from([0xff, 0xfe, 0, word.length + 2]);
    return new Uint8Array(Buffer.concat([file.subarray(0, 2), comment, word, file.subarray(2)]));
  };
}

/** Brings photographs of a kind, twelve to a filter, in as many studies as that takes. */
async function bringer(owner: Person, kind: Kind, most: number): Promise<(n: number) => Promise<string[]>> {
  const picture = await photographsOf(kind);
  const filters: string[] = [];
  for (let left = Math.ceil(most / PHOTOS_A_FILTER); left > 0; left -= FILTERS_A_STUDY) {
    const name = `Queue ${kind.widthPx} ${filters.length}`;
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
        ids.push(await bring(owner, filter, picture(k), `queued ${kind.widthPx} ${k}.jpg`));
      }
    };
    await Promise.all(Array.from({ length: HANDS }, hand));
    return ids;
  };
}

/** Seconds of processor that a process has taken, its threads included. */
function processorOf({ pid }: Worker): number {
  const [utime, stime] = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1]!.split(' ').slice(11, 13);
  // The kernel tells them in hundredths of a second, on every machine.
  return (Number(utime) + Number(stime)) / 100;
}

/** Workers of one core each, with what they had taken of the processor when they had started. */
async function begin(group: Group, workers: number): Promise<{ took(): number; stop(): Promise<void> }> {
  const crew = await Promise.all(Array.from({ length: workers }, () => group.worker({}, ...ONE_CORE)));
  const sum = (): number => crew.reduce((all, one) => all + processorOf(one), 0);
  const before = sum();
  return {
    took: () => sum() - before,
    stop: async () => void (await Promise.all(crew.map((one) => one.stop()))),
  };
}

/** Looks at how searches ended, by the records; asked of the database itself, so that the server is not kept busy. */
async function openRecords(group: Group): Promise<pg.Client> {
  const client = new pg.Client({ connectionString: group.database });
  await client.connect();
  return client;
}

/** Waits until all are over. Seconds since the epoch at which each was, earliest first. */
async function endsOf(records: pg.Client, photos: readonly string[]): Promise<number[]> {
  for (const end = Date.now() + MOST_MS; ; ) {
    const { rows } = await records.query<{ at: string }>(
      `select extract(epoch from at) as at from photo_search
       where photo = any($1) and state in ('searched', 'refused', 'set-aside') order by 1`,
      [photos],
    );
    if (rows.length === photos.length) return rows.map(({ at }) => Number(at));
    if (Date.now() > end) throw new Error(`${rows.length} of ${photos.length} photographs were searched`);
    await new Promise((resume) => setTimeout(resume, 500));
  }
}

/** Photographs that were not searched, tried again, or found on twice. */
async function amissAmong(
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
  const bringSome = await bringer(owner, SMALL, photos);
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

export interface Ratio {
  readonly pairs: number;
  readonly photos: number;
  readonly processorS: number;
  readonly onePerSecond: number;
  readonly twoPerSecond: number;
  readonly ratio: number;
  /** 95 % of the ratios that such pairs of blocks, drawn anew by chance, would have. */
  readonly low: number;
  readonly high: number;
}

/** Photographs for each worker of a block: those it warms up on, which do not count, and those that count. */
const WARM = 6;
const COUNTED = 20;

/**
 * Blocks of one worker and of two take turns, so that whatever else the machine does meets both. A block's rate is taken
 * while all its workers are at work: from the end of the warming up to the moment when the first finds nothing left.
 */
export async function oneBesideTwo(group: Group, owner: Person, pairs: number): Promise<Ratio> {
  const bringSome = await bringer(owner, LARGE, pairs * 3 * (WARM + COUNTED));
  const records = await openRecords(group);
  let [photos, processor] = [0, 0];
  const block = async (workers: 1 | 2): Promise<number> => {
    const own = await bringSome(workers * (WARM + COUNTED));
    const crew = await begin(group, workers);
    const at = await endsOf(records, own);
    processor += crew.took();
    photos += own.length;
    await crew.stop();
    const [first, last] = [workers * WARM - 1, own.length - workers];
    return (last - first) / (at[last]! - at[first]!);
  };
  const rates: { one: number; two: number }[] = [];
  try {
    for (let k = 0; k < pairs; k++) {
      // Whoever goes first in one pair goes second in the next.
      const before = k % 2 === 0 ? await block(1) : null;
      const two = await block(2);
      rates.push({ one: before ?? (await block(1)), two });
    }
  } finally {
    await records.end();
  }
  return { pairs, photos, processorS: processor / photos, ...summaryOf(rates) };
}

/** Rates over all blocks, their ratio, and its interval by drawing the pairs anew (percentile bootstrap, seeded). */
export function summaryOf(
  rates: readonly { readonly one: number; readonly two: number }[],
): Pick<Ratio, 'onePerSecond' | 'twoPerSecond' | 'ratio' | 'low' | 'high'> {
  // Mean of the times that a photograph takes, for each block counts as many.
  const rate = (of: (pair: (typeof rates)[number]) => number, drawn: typeof rates): number =>
    drawn.length / drawn.reduce((sum, pair) => sum + 1 / of(pair), 0);
  const ratioOf = (drawn: typeof rates): number => rate((p) => p.two, drawn) / rate((p) => p.one, drawn);
  const chance = chanceOf(20_261_201);
  const anew = Array.from({ length: 4000 }, () =>
    ratioOf(rates.map(() => rates[Math.floor(chance() * rates.length)]!)),
  ).sort((a, b) => a - b);
  return {
    onePerSecond: rate((p) => p.one, rates),
    twoPerSecond: rate((p) => p.two, rates),
    ratio: ratioOf(rates),
    low: anew[99]!,
    high: anew[3899]!,
  };
}
