/** One worker beside two, on photographs of the size that people bring, and what each process takes of the processor. */
import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { drawPhotograph } from '../../demo/drawing/photograph.ts';
import { recipeFor } from '../../demo/photographs/recipe.ts';
import { chanceOf } from '../engines/chance.ts';
import { CACHE, drawingVersion } from '../photos/sets-on-disk.ts';
import type { Group, Person, Worker } from './group.ts';
import {
  amissAmong,
  bringer,
  endsOf,
  ONE_CORE,
  openRecords,
  overAmong,
  PHOTOS_A_FILTER,
  type WholeQueue,
} from './load-queue.ts';
import { processorOf, processorOfMachine, processorOfThreads } from './processor.ts';

/** As the example laboratory's: 2,400 × 1,800 pixels. Drawn once, kept in .cache. */
async function photographs(): Promise<readonly Uint8Array[]> {
  const folder = join(CACHE, drawingVersion());
  mkdirSync(folder, { recursive: true });
  const files: Uint8Array[] = [];
  for (let k = 1; k <= PHOTOS_A_FILTER; k++) {
    const path = join(folder, `load-${k}.jpg`);
    if (!existsSync(path)) {
      const { width, height, pixels } = drawPhotograph(
        recipeFor(
          {
            ...{ name: `load ${k}`, run: 'load', kind: 'worn-board', session: 1, spiked: null },
            ...{ synthetic: 20, tissue: 4, passed: 1, clogged: false, handle: 'green' },
          },
          k,
        ),
      );
      const picture = sharp(pixels, { raw: { width, height, channels: 3 } });
      writeFileSync(path, await picture.jpeg({ quality: 92 }).toBuffer());
    }
    files.push(readFileSync(path));
  }
  return files;
}

/** Seconds of processor for one photograph, by who took them. */
export interface Account {
  /** The thread of each worker that searches: the busiest but the first. */
  readonly search: number;
  /** The workers' first threads: queue, records, originals. */
  readonly first: number;
  /** The workers' other threads: the decoder, and the engine's own for memory and compiling. */
  readonly others: number;
  readonly database: number;
  readonly server: number;
  /** This program, which brings the photographs and asks how far they are. */
  readonly driver: number;
}

export interface Way {
  readonly onePerSecond: number;
  readonly twoPerSecond: number;
  readonly ratio: number;
  /** 95 % of the ratios that such pairs of blocks, drawn anew by chance, would have. */
  readonly low: number;
  readonly high: number;
  readonly one: Account;
  readonly two: Account;
  /** Cores that programs of others kept busy meanwhile, beside one worker and beside two. */
  readonly foreign: readonly [number, number];
}

export interface Ratio extends Pick<WholeQueue, 'unsearched' | 'again' | 'doubled'> {
  readonly pairs: number;
  readonly photos: number;
  readonly megapixels: number;
  /** Workers go where the kernel puts them. */
  readonly free: Way;
  /** One worker held to the first core; of two, each to a core of its own. Null where there is nothing to hold them with. */
  readonly pinned: Way | null;
}

/** Photographs for each worker of a block: those it warms up on, which do not count, and those that count. */
const WARM = 6;
const COUNTED = 14;

interface Block {
  readonly perSecond: number;
  readonly account: Account;
  readonly foreign: number;
}

/** What has been taken so far, by everybody whom the account names. */
function taken(group: Group, crew: readonly Worker[]) {
  const database = group.postgres.pids();
  return {
    threads: crew.map(({ pid }) => processorOfThreads(pid)),
    database: new Map(database.map((pid) => [pid, processorOf(pid)])),
    server: processorOf(group.serverPid()),
    driver: processorOf(process.pid),
    machine: processorOfMachine(),
    at: performance.now() / 1000,
  };
}
type Taken = ReturnType<typeof taken>;

/** What was taken between, for each of so many photographs. */
function between(from: Taken, to: Taken, photos: number, crew: readonly Worker[]) {
  const grown = (before: ReadonlyMap<number, number>, after: ReadonlyMap<number, number>) =>
    [...after].map(([id, now]) => [id, now - (before.get(id) ?? 0)] as const);
  let [search, first, others] = [0, 0, 0];
  crew.forEach(({ pid }, k) => {
    const by = grown(from.threads[k]!, to.threads[k]!);
    const own = by.find(([id]) => id === pid)![1];
    const busiest = Math.max(...by.filter(([id]) => id !== pid).map(([, took]) => took));
    search += busiest;
    first += own;
    others += by.reduce((sum, [, took]) => sum + took, 0) - own - busiest;
  });
  const database = grown(from.database, to.database).reduce((sum, [, took]) => sum + took, 0);
  const server = to.server - from.server;
  const driver = to.driver - from.driver;
  const ours = search + first + others + database + server + driver;
  const account: Account = {
    search: search / photos,
    first: first / photos,
    others: others / photos,
    database: database / photos,
    server: server / photos,
    driver: driver / photos,
  };
  return { account, foreign: Math.max(0, to.machine - from.machine - ours) / (to.at - from.at) };
}

/**
 * Blocks of one worker and of two take turns, so that whatever else the machine does meets both; free and pinned ones too.
 * A block's rate is taken while all its workers are at work: from the end of the warming up to the moment when the first
 * finds nothing left.
 */
export async function oneBesideTwo(group: Group, owner: Person, pairs: number): Promise<Ratio> {
  const ways =
    spawnSync('taskset', ['-V']).status === 0 ? (['free', 'pinned'] as const) : (['free'] as const);
  const bringSome = await bringer(owner, photographs, ways.length * pairs * 3 * (WARM + COUNTED));
  const records = await openRecords(group);
  const photos: string[] = [];
  const block = async (workers: 1 | 2, pinned: boolean): Promise<Block> => {
    const own = await bringSome(workers * (WARM + COUNTED));
    photos.push(...own);
    const crew = await Promise.all(Array.from({ length: workers }, () => group.worker({}, ...ONE_CORE)));
    if (pinned) crew.forEach(({ pid }, core) => void execFileSync('taskset', ['-acp', `${core}`, `${pid}`]));
    const [first, last] = [workers * WARM - 1, own.length - workers];
    const begun = await overAmong(records, own, first + 1);
    const from = taken(group, crew);
    const ended = await overAmong(records, own, last);
    const told = between(from, taken(group, crew), ended - begun, crew);
    const at = await endsOf(records, own);
    await Promise.all(crew.map((one) => one.stop()));
    return { perSecond: (last - first) / (at[last]! - at[first]!), ...told };
  };
  const blocks = new Map<string, { one: Block; two: Block }[]>(ways.map((way) => [way, []]));
  let amiss: Awaited<ReturnType<typeof amissAmong>>;
  try {
    for (let k = 0; k < pairs; k++) {
      for (const way of ways) {
        // Whoever goes first in one pair goes second in the next.
        const before = k % 2 === 0 ? await block(1, way === 'pinned') : null;
        const two = await block(2, way === 'pinned');
        blocks.get(way)!.push({ one: before ?? (await block(1, way === 'pinned')), two });
      }
    }
    amiss = await amissAmong(records, photos);
  } finally {
    await records.end();
  }
  const { width = 0, height = 0 } = await sharp((await photographs())[0]).metadata();
  const pinned = blocks.get('pinned');
  return {
    pairs,
    photos: photos.length,
    megapixels: (width * height) / 1e6,
    ...amiss,
    free: wayOf(blocks.get('free')!),
    pinned: pinned ? wayOf(pinned) : null,
  };
}

function wayOf(pairs: readonly { readonly one: Block; readonly two: Block }[]): Way {
  const mean = (of: (pair: (typeof pairs)[number]) => number): number =>
    pairs.reduce((sum, pair) => sum + of(pair), 0) / pairs.length;
  const account = (which: 'one' | 'two'): Account => ({
    search: mean((p) => p[which].account.search),
    first: mean((p) => p[which].account.first),
    others: mean((p) => p[which].account.others),
    database: mean((p) => p[which].account.database),
    server: mean((p) => p[which].account.server),
    driver: mean((p) => p[which].account.driver),
  });
  return {
    ...summaryOf(pairs.map(({ one, two }) => ({ one: one.perSecond, two: two.perSecond }))),
    one: account('one'),
    two: account('two'),
    foreign: [mean((p) => p.one.foreign), mean((p) => p.two.foreign)],
  };
}

/**
 * Rates over all blocks, their ratio, and its interval by drawing the pairs anew, seeded: the percentile interval (Efron &
 * Tibshirani 1993, An Introduction to the Bootstrap, Chapman & Hall, chapter 13; from memory). Of B ratios in order it is
 * the (0.025 B)th and the (0.975 B)th, here the 100th and the 3900th of 4000. What is drawn are pairs, since a block of one
 * worker and its neighbour of two met the same machine. From few pairs it comes out too narrow.
 */
function summaryOf(
  rates: readonly { readonly one: number; readonly two: number }[],
): Pick<Way, 'onePerSecond' | 'twoPerSecond' | 'ratio' | 'low' | 'high'> {
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
