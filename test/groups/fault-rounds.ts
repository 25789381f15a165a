/** Rounds of a group at work in which server, worker or database is killed at a moment drawn by chance. */
import pg from 'pg';
import { chanceOf } from '../engines/chance.ts';
import { checkGroup } from './check.ts';
import { type Group, type Person, startGroup, type Worker } from './group.ts';
import { bring, isOver, makeStudy, noise, searches } from './group-study.ts';

export const VICTIMS = ['server', 'worker', 'database'] as const;
export const WORKS = ['import', 'detection', 'marking'] as const;
export type Victim = (typeof VICTIMS)[number];
export type Work = (typeof WORKS)[number];

export interface FaultTally {
  readonly work: Work;
  readonly victim: Victim;
  rounds: number;
  acknowledged: number;
  /** Requests that the kill left without an answer; each may have been kept or not. */
  unanswered: number;
  readonly lost: string[];
  readonly doubled: string[];
  /** What the laboratory's own check found, and answers that should not have come. */
  readonly amiss: string[];
  /** Longest time until the server answered again. */
  slowestMs: number;
}

/** So many at once. */
const BRINGING = 2;
const MARKING = 4;

interface Site {
  readonly group: Group;
  readonly owner: Person;
  readonly filters: readonly string[];
  /** Pieces to mark, of one photo. */
  readonly photo: string;
  readonly pieces: readonly string[];
  /** What was acknowledged, ever. */
  readonly photos: Set<string>;
  readonly marks: Set<string>;
  worker: Worker;
  unanswered: { photos: number; marks: number };
  made: number;
}

const wait = (ms: number): Promise<void> => new Promise((resume) => setTimeout(resume, ms));

async function until(done: () => Promise<boolean>, mostMs: number, what: string): Promise<void> {
  for (const end = Date.now() + mostMs; !(await done().catch(() => false)); await wait(100)) {
    if (Date.now() > end) throw new Error(`in vain waited for: ${what}`);
  }
}

async function makeSite(): Promise<Site> {
  const group = await startGroup();
  const owner = await group.person('Olga Owner', group.firstCode);
  const { filters } = await makeStudy(owner, 'Faults', 6);
  const worker = await group.worker();
  const photo = await bring(owner, filters[0]!, await noise(1), 'marked.png');
  await until(async () => (await searches(owner)).every(isOver), 300_000, 'the first search');
  const pieces: string[] = [];
  const marks = new Set<string>();
  for (let k = 0; k < MARKING; k++) {
    const [x, y] = [20 + k * 40, 20];
    const outline = [
      [x, y],
      [x + 20, y],
      [x + 20, y + 20],
      [x, y + 20],
    ];
    const wish = { deed: 'draw', particles: [], outline, shape: 'fragment', colour: 'blue' };
    const { json } = await owner.ask('POST', `/api/photos/${photo}/marks`, wish);
    pieces.push(json.particles[0].id);
    marks.add(json.mark.id);
  }
  const photos = new Set([photo]);
  return {
    group,
    owner,
    filters,
    photo,
    pieces,
    photos,
    marks,
    worker,
    unanswered: { photos: 0, marks: 0 },
    made: 2,
  };
}

/** Asks once; null where no answer came, or one that leaves open whether it was kept. */
async function answerOf(
  person: Person,
  tally: FaultTally,
  ...[method, route, body]: Parameters<Person['ask']>
  // biome-ignore lint/suspicious/noExplicitAny: looked into by the callers, field by field
): Promise<any> {
  try {
    const { status, json } = await person.ask(method, route, body);
    if (status === 200) return json;
    if (json?.refusal?.why !== 'no-database') tally.amiss.push(`${status} ${JSON.stringify(json)}`);
  } catch {
    // The line broke: no answer.
  }
  return null;
}

async function bringOne(site: Site, tally: FaultTally): Promise<boolean> {
  const n = site.made++;
  const bytes = await noise(n);
  const route = `/api/filters/${site.filters[n % 6]}/photos?name=${n}.png`;
  const answer = await answerOf(site.owner, tally, 'PUT', route, bytes);
  if (answer) site.photos.add(answer.photo.id);
  else site.unanswered.photos++;
  return answer !== null;
}

async function markOne(site: Site, tally: FaultTally, k: number): Promise<boolean> {
  // Two pieces each and the next one's too, so that several decide on the same.
  const particles = [site.pieces[k]!, site.pieces[(k + 1) % MARKING]!];
  const wish = { deed: site.made++ % 2 === 0 ? 'keep' : 'drop', particles };
  const answer = await answerOf(site.owner, tally, 'POST', `/api/photos/${site.photo}/marks`, wish);
  if (answer) site.marks.add(answer.mark.id);
  else site.unanswered.marks++;
  return answer !== null;
}

/** Works in several hands until told to stop; each stops by itself when it gets no answer. */
async function atWork(
  site: Site,
  tally: FaultTally,
  work: Work,
  acknowledged: () => void,
  stop: () => boolean,
): Promise<void> {
  const hand = async (k: number): Promise<void> => {
    while (!stop()) {
      const kept = work === 'marking' ? await markOne(site, tally, k) : await bringOne(site, tally);
      if (!kept) return;
      acknowledged();
    }
  };
  await Promise.all(Array.from({ length: work === 'marking' ? MARKING : BRINGING }, (_, k) => hand(k)));
}

async function kill(site: Site, victim: Victim): Promise<void> {
  if (victim === 'server') await site.group.restart();
  else if (victim === 'database') await site.group.postgres.killAndRestart();
  else {
    await site.worker.kill();
    site.worker = await site.group.worker();
  }
}

/** What must hold after every round. */
async function verify(site: Site, tally: FaultTally): Promise<void> {
  const client = new pg.Client({ connectionString: site.group.database });
  await client.connect();
  const idsOf = async (table: 'photo' | 'mark') =>
    new Set((await client.query<{ id: string }>(`select id from ${table}`)).rows.map(({ id }) => id));
  for (const [table, acknowledged, open] of [
    ['photo', site.photos, site.unanswered.photos],
    ['mark', site.marks, site.unanswered.marks],
  ] as const) {
    const there = await idsOf(table);
    for (const id of acknowledged) if (!there.has(id)) tally.lost.push(`${table} ${id}`);
    const more = there.size - acknowledged.size - open;
    if (more > 0) tally.doubled.push(`${more} more of ${table} than were asked for`);
  }
  const { rows: twice } = await client.query(
    'select photo, method, version, wish_key from finding group by 1, 2, 3, 4 having count(*) > 1',
  );
  for (const row of twice) tally.doubled.push(`findings of photo ${row.photo}`);
  const { rows: same } = await client.query('select sha256 from photo group by 1 having count(*) > 1');
  for (const row of same) tally.doubled.push(`photo ${row.sha256}`);
  await client.end();
  const { problems } = await checkGroup(site.group);
  tally.amiss.push(...problems.map(({ message }) => message));
}

async function round(site: Site, tally: FaultTally, chance: () => number): Promise<void> {
  const { work, victim } = tally;
  const enough = 1 + Math.floor(chance() * 4);
  const afterMs = chance() * (work === 'detection' ? 300 : 60);
  let [done, stopped] = [0, false];
  let reached = (): void => {};
  const enoughDone = new Promise<void>((resolve) => {
    reached = resolve;
  });
  const acknowledged = (): void => {
    done++;
    if (done === enough) reached();
  };
  // Photographs that were brought in are searched at once.
  const hands = atWork(site, tally, work === 'marking' ? work : 'import', acknowledged, () => stopped);
  await Promise.race([enoughDone, hands]);
  await wait(afterMs);
  stopped = true;
  const from = Date.now();
  await kill(site, victim);
  const back = async () => (await site.owner.ask('GET', '/api/studies')).status === 200;
  await until(back, 120_000, 'an answer after the kill');
  await hands;
  tally.slowestMs = Math.max(tally.slowestMs, Date.now() - from);
  tally.rounds++;
  tally.acknowledged += done;
}

/** Every photograph's search ends; one that three killed workers held is set aside, as promised, and asked for again. */
async function settle(site: Site): Promise<void> {
  await until(
    async () => {
      const now = await searches(site.owner);
      for (const one of now) {
        if (one.state === 'set-aside') await site.owner.ask('POST', `/api/photos/${one.photo}/search`);
      }
      return now.length >= site.photos.size && now.every(isOver);
    },
    480_000,
    'the end of all searches',
  );
}

/** So many rounds of each work with each victim, on a group of its own. */
export async function faultRounds(
  each: number,
  seed: number,
  told: (tally: FaultTally) => void = () => {},
): Promise<readonly FaultTally[]> {
  const chance = chanceOf(seed);
  const site = await makeSite();
  const tallies: FaultTally[] = [];
  try {
    for (const work of WORKS) {
      for (const victim of VICTIMS) {
        const tally: FaultTally = {
          ...{ work, victim, rounds: 0, acknowledged: 0, unanswered: 0, slowestMs: 0 },
          ...{ lost: [], doubled: [], amiss: [] },
        };
        tallies.push(tally);
        const before = site.unanswered.photos + site.unanswered.marks;
        for (let n = 0; n < each; n++) {
          await round(site, tally, chance);
          await verify(site, tally);
        }
        tally.unanswered = site.unanswered.photos + site.unanswered.marks - before;
        told(tally);
      }
    }
    await settle(site);
    await verify(site, tallies.at(-1)!);
    return tallies;
  } finally {
    await site.group.close();
  }
}
