/** Lines that break between server and database, and people who decide on the same pieces at once. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkGroup } from './check.ts';
import { type Group, type Person, startGroup } from './group.ts';
import { bring, type GroupStudy, isOver, makeStudy, noise, searches } from './group-study.ts';
import { postgresPrograms } from './postgres-server.ts';

const soon = <T>(get: () => T | Promise<T>) => expect.poll(get, { timeout: 120_000, interval: 200 });

describe.skipIf(postgresPrograms() === null)('a group on lines that break', () => {
  let group: Group;
  let owner: Person;
  let study: GroupStudy;
  beforeAll(async () => {
    group = await startGroup();
    owner = await group.person('Olga Owner', group.firstCode);
    study = await makeStudy(owner, 'Boards', 3);
  });
  afterAll(() => group?.close());

  const state = async (photo: string) => (await owner.ask('GET', `/api/photos/${photo}`)).json?.state;
  const kept = async (photo: string) => {
    const { default: pg } = await import('pg');
    const client = new pg.Client({ connectionString: group.database });
    await client.connect();
    const { rows } = await client.query('select state from photo_search where photo = $1', [photo]);
    await client.end();
    return rows[0]?.state;
  };

  it.each(['cut', 'lose'] as const)(
    'shows how a search ended that ended while its line was away (%s)',
    async (how) => {
      const photo = await bring(owner, study.filters[0]!, await noise(how.length), `${how}.png`);
      await soon(() => kept(photo)).toBe('waiting');
      group.line[how]();
      const worker = await group.worker();
      await soon(async () => isOver({ state: await kept(photo) } as never)).toBe(true);
      await worker.stop();
      group.line.mend();
      await soon(async () => isOver({ state: await state(photo) } as never)).toBe(true);
      expect(await state(photo)).toBe(await kept(photo));
    },
  );

  it('keeps its word that a photo waits when it could not be put into the queue', async () => {
    const photo = await bring(owner, study.filters[1]!, await noise(50), 'waits.png');
    group.line.cut();
    group.line.mend();
    const worker = await group.worker();
    await soon(async () => (await searches(owner)).some((one) => one.photo === photo && isOver(one))).toBe(
      true,
    );
    await worker.stop();
  });

  it('answers over a slow line, and again at once when it is quick', async () => {
    group.line.mend(40);
    expect((await owner.ask('GET', `/api/studies/${study.id}/filters`)).status).toBe(200);
    group.line.mend();
  });

  it('holds what several decide on the same pieces at once: every mark counts, in one order', async () => {
    const photo = await bring(owner, study.filters[2]!, await noise(60), 'together.png');
    const worker = await group.worker();
    await soon(async () => isOver({ state: await state(photo) } as never)).toBe(true);
    await worker.stop();
    const mark = (body: unknown) => owner.ask('POST', `/api/photos/${photo}/marks`, body);
    const outline = [
      [20, 20],
      [40, 20],
      [40, 40],
      [20, 40],
    ];
    const drawn = await mark({ deed: 'draw', particles: [], outline, shape: 'fragment', colour: 'blue' });
    const piece = drawn.json.particles[0].id;
    const tab = async (k: number) => {
      const answers = [];
      for (let n = 0; n < 10; n++) {
        const wish =
          n % 3 === 2
            ? { deed: 'class', shape: ['fibre', 'film', 'bead'][k % 3] }
            : { deed: (n + k) % 2 === 0 ? 'keep' : 'drop' };
        answers.push((await mark({ ...wish, particles: [piece] })).status);
      }
      return answers;
    };
    const statuses = (await Promise.all([0, 1, 2, 3, 4, 5].map(tab))).flat();
    expect(new Set(statuses)).toEqual(new Set([200]));
    expect((await checkGroup(group)).problems).toEqual([]);
  });
});
