/** Load on a group's server: sixty people marking at once, each without a pause. */
import pg from 'pg';
import type { Group, Person } from './group.ts';
import { bring, makeStudy, noise, searches } from './group-study.ts';

export interface MarkLoad {
  readonly people: number;
  readonly marks: number;
  readonly lost: number;
  readonly doubled: number;
  readonly refused: number;
  readonly p50Ms: number;
  readonly p95Ms: number;
  readonly perSecond: number;
}

/**
 * Every person draws pieces on one photo and then marks them, each mark after the answer to the one before. What the server
 * acknowledged is compared with what stands afterwards.
 */
export async function markLoad(
  group: Group,
  owner: Person,
  { people, marks }: { readonly people: number; readonly marks: number },
): Promise<MarkLoad> {
  const crew: Person[] = [];
  for (let k = 0; k < people; k++) {
    crew.push(await group.person(`Marker ${k}`, await group.invite(owner, 'bench')));
  }
  const study = await makeStudy(owner, `Marking ${marks}`, Math.min(people, 20));
  const photos: string[] = [];
  for (const [k, filter] of study.filters.entries()) {
    photos.push(await bring(owner, filter, await noise(1000 + k), `marked ${k}.png`));
  }
  const worker = await group.worker();
  await until(async () =>
    (await searches(owner))
      .filter((one) => photos.includes(one.photo))
      .every((one) => one.state === 'refused' || one.state === 'searched'),
  );

  await worker.stop();

  const each = Math.ceil(marks / people);
  const times: number[] = [];
  const made: string[] = [];
  let refused = 0;
  const from = performance.now();
  await Promise.all(
    crew.map(async (person, k) => {
      const photo = photos[k % photos.length]!;
      const own: string[] = [];
      for (let n = 0; n < each; n++) {
        const drawing = n < 2;
        const x = 5 + (k % 10) * 20 + n * 2;
        const wish = drawing
          ? {
              deed: 'draw',
              particles: [],
              outline: [
                [x, 20],
                [x + 8, 20],
                [x + 8, 28],
                [x, 28],
              ],
              shape: 'fragment',
              colour: 'blue',
            }
          : { deed: n % 2 === 0 ? 'keep' : 'drop', particles: [own[n % own.length]] };
        const begun = performance.now();
        const { status, json } = await person.ask('POST', `/api/photos/${photo}/marks`, wish);
        times.push(performance.now() - begun);
        if (status !== 200) {
          refused++;
          continue;
        }
        made.push(json.mark.id);
        if (drawing) own.push(json.particles[0].id);
      }
    }),
  );
  const seconds = (performance.now() - from) / 1000;
  const kept = await marksInDatabase(group);
  const acknowledged = new Set(made);
  times.sort((a, b) => a - b);
  return {
    people,
    marks: made.length,
    lost: made.filter((id) => !kept.has(id)).length,
    doubled: made.length - acknowledged.size + Math.max(0, kept.size - acknowledged.size),
    refused,
    p50Ms: times[Math.floor(times.length / 2)]!,
    p95Ms: times[Math.floor(times.length * 0.95)]!,
    perSecond: made.length / seconds,
  };
}

async function marksInDatabase(group: Group): Promise<ReadonlySet<string>> {
  const client = new pg.Client({ connectionString: group.database });
  await client.connect();
  const { rows } = await client.query<{ id: string }>('select id from mark');
  await client.end();
  return new Set(rows.map((row) => row.id));
}

async function until(done: () => Promise<boolean>, mostMs = 300_000): Promise<void> {
  const end = Date.now() + mostMs;
  while (!(await done())) {
    if (Date.now() > end) throw new Error('the photos were not all searched in time');
    await new Promise((resume) => setTimeout(resume, 250));
  }
}
