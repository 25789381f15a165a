import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Group, type Person, startGroup } from './group.ts';
import { bring, type GroupStudy, isOver, makeStudy, noise, searches } from './group-study.ts';
import { markLoad } from './load-marks.ts';
import { postgresPrograms } from './postgres-server.ts';

const soon = <T>(get: () => T | Promise<T>) => expect.poll(get, { timeout: 120_000, interval: 200 });
const there = postgresPrograms() !== null;

describe.skipIf(!there)('a group', () => {
  let group: Group;
  let owner: Person;
  let bench: Person;
  let scorer: Person;
  let reader: Person;
  let study: GroupStudy;

  beforeAll(async () => {
    group = await startGroup();
    owner = await group.person('Olga Owner', group.firstCode);
    bench = await group.person('Ben Bench', await group.invite(owner, 'bench'));
    scorer = await group.person('Sam Scorer', await group.invite(owner, 'scorer'));
    reader = await group.person('Rea Reader', await group.invite(owner, 'reader'));
    study = await makeStudy(bench, 'Boards', 6);
  });
  afterAll(() => group?.close());

  it('lets nobody in without an account, and each code once', async () => {
    for (const route of [
      '/api/studies',
      '/api/people',
      '/api/progress',
      '/api/accounts',
      `/api/studies/${study.id}/standing`,
    ]) {
      expect((await group.nobody.ask('GET', route)).status, route).toBe(401);
    }
    expect((await group.nobody.ask('GET', '/api/me')).json).toEqual({ accounts: true, account: null });
    await expect(group.person('Second', group.firstCode)).rejects.toThrow('no-such-code');
    const weak = await group.nobody.ask('POST', '/api/join', {
      code: await group.invite(owner, 'reader'),
      name: 'Weak',
      login: 'weak',
      password: 'short',
    });
    expect(weak).toMatchObject({ status: 422, json: { refusal: { why: 'weak-password' } } });
  });

  it('holds each role to what it may do', async () => {
    const read = ['standing', 'runs', 'filters', 'marks', 'claim'].map(
      (view) => `/api/studies/${study.id}/${view}`,
    );
    for (const route of read) {
      expect((await reader.ask('GET', route)).status, route).toBe(200);
      // Anything of these would tell a specimen from a control.
      expect((await scorer.ask('GET', route)).status, route).toBe(403);
    }
    const question = { product: 'x', act: 'y', size_from_um: 50 };
    for (const person of [reader, scorer]) {
      expect((await person.ask('POST', '/api/studies', { name: person.name, question })).status).toBe(403);
    }
    for (const person of [bench, scorer, reader]) {
      expect((await person.ask('POST', '/api/invitations', { role: 'owner', note: '' })).status).toBe(403);
      expect((await person.ask('GET', '/api/accounts')).status).toBe(403);
    }
    // What a study shows, and how many of its runs are controls, would tell a scorer what to expect.
    const named = { id: study.id, name: 'Boards', demonstration: false, rounds: [] };
    expect((await scorer.ask('GET', '/api/studies')).json).toEqual({ studies: [], to_score: [named] });
    const { json } = await reader.ask('GET', '/api/studies');
    expect(json).toMatchObject({ studies: [{ id: study.id, controls: 6 }], to_score: [] });
  });

  it('records in the name of who is signed in, whatever a header says', async () => {
    const people = (await owner.ask('GET', '/api/people')).json.people as { id: string; name: string }[];
    const forged = { 'x-working': people.find((one) => one.name === 'Olga Owner')!.id };
    const { json } = await bench.ask('GET', '/api/people', undefined, forged);
    expect(people.find((one) => one.id === json.working)!.name).toBe('Ben Bench');
  });

  it('ends sessions: by signing out, by closing the account; the last owner stays', async () => {
    const guest = await group.person('Gil Guest', await group.invite(owner, 'reader'));
    expect((await guest.ask('POST', '/api/sign-out')).status).toBe(200);
    expect((await guest.ask('GET', '/api/studies')).status).toBe(401);
    const closed = await group.person('Cleo Closed', await group.invite(owner, 'bench'));
    const progress = (await closed.open('/api/progress')).getReader();
    expect((await progress.read()).done).toBe(false);
    const accounts = (await owner.ask('GET', '/api/accounts')).json.accounts as {
      person: string;
      name: string;
    }[];
    const id = (name: string) => accounts.find((one) => one.name === name)!.person;
    expect((await owner.ask('POST', `/api/accounts/${id('Cleo Closed')}`, { role: null })).status).toBe(200);
    expect((await closed.ask('GET', '/api/studies')).status).toBe(401);
    // What was open when the account was closed tells nothing more either.
    for (let heard = await progress.read(); !heard.done; heard = await progress.read());
    const last = await owner.ask('POST', `/api/accounts/${id('Olga Owner')}`, { role: 'reader' });
    expect(last.json.refusal.why).toBe('last-owner');
  });

  it('slows down guessing, for a login that is there and for one that is not', async () => {
    const guess = (login: string) =>
      group.nobody.ask('POST', '/api/sign-in', { login, password: 'carrot carrot carrot' });
    const first = [await guess('ben.bench'), await guess('nobody.at.all')];
    expect(first.map((one) => [one.status, one.json.refusal.message])).toEqual([
      [401, first[0]!.json.refusal.message],
      [401, first[0]!.json.refusal.message],
    ]);
    let last = first[0]!;
    for (let k = 0; k < 12; k++) last = await guess('ben.bench');
    expect(last).toMatchObject({ status: 429, json: { refusal: { why: 'too-many-tries' } } });
  });

  it('searches with any number of workers; a killed worker’s photo is done once by another', async () => {
    const photos: string[] = [];
    for (let k = 0; k < 12; k++) {
      photos.push(await bring(bench, study.filters[k % 6]!, await noise(k), `noise ${k}.png`));
    }
    const waiting = async () => (await searches(owner)).filter((one) => one.state === 'waiting').length;
    expect(await waiting()).toBe(12);
    const doomed = await group.worker();
    await soon(waiting).toBeLessThan(11);
    await doomed.kill();
    const helpers = await Promise.all([group.worker(), group.worker()]);
    await soon(async () => (await searches(owner)).filter(isOver).length).toBe(12);
    const now = await searches(owner);
    // Whatever the killed one had in hand was tried again; nothing was tried a third time.
    expect(Math.max(...now.map((one) => one.tries))).toBeLessThanOrEqual(2);
    for (const photo of photos) {
      // Word of the end reaches the server a moment after the record of it.
      const { state } = now.find((one) => one.photo === photo)!;
      const seen = async () => (await reader.ask('GET', `/api/photos/${photo}`)).json;
      await soon(async () => (await seen()).state).toBe(state);
      const json = await seen();
      if (json.state === 'refused') expect(json.refusal.message).toMatch(/\.$/);
    }
    await Promise.all(helpers.map((one) => one.stop()));
  });

  it('sets a photo aside that stops three workers, with the reason, and searches it again when asked', async () => {
    const photo = await bring(bench, study.filters[0]!, await noise(100, 4000, 3000), 'poison.png');
    const own = async () => (await searches(owner)).find((one) => one.photo === photo)!;
    for (let k = 0; k < 3; k++) {
      const worker = await group.worker();
      await soon(() => worker.lines.some((line) => line.includes(photo))).toBe(true);
      await worker.kill();
    }
    const survivor = await group.worker();
    await soon(async () => (await own()).state).toBe('set-aside');
    expect((await own()).reason).toMatch(/“poison.png” was set aside after 3 tries \(.+\)/);
    expect((await bench.ask('POST', `/api/photos/${photo}/search`)).status).toBe(200);
    await soon(async () => isOver(await own())).toBe(true);
    await survivor.stop();
  });

  it('loses and doubles no mark of many people at once', async () => {
    const load = await markLoad(group, owner, { people: 12, marks: 120 });
    expect(load).toMatchObject({ marks: 120, lost: 0, doubled: 0, refused: 0 });
  });

  it('goes on after the server is killed, and after the database is', async () => {
    const photo = await bring(bench, study.filters[1]!, await noise(200), 'before the kill.png');
    await group.restart();
    const own = async () => (await searches(owner)).find((one) => one.photo === photo)!;
    // The session outlives the server, and so does the photo in the queue.
    expect((await own()).state).toBe('waiting');
    await group.postgres.killAndRestart();
    await soon(async () => (await owner.ask('GET', '/api/studies')).status).toBe(200);
    const worker = await group.worker();
    await soon(async () => isOver(await own())).toBe(true);
    await worker.stop();
  });
});
