/** Accounts through the real door of a group's server: passwords, codes that end, and whose name an account takes. */
import { spawnSync } from 'node:child_process';
import path from 'node:path';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { AccountsAnswer } from '../../src/api/index.ts';
import { type Group, type Person, startGroup } from './group.ts';
import { type Answer, passwordOf, withCookie } from './person.ts';
import { postgresPrograms } from './postgres-server.ts';
import { PROGRAM, ROOT } from './program.ts';

const NEW = 'parsnip kettle window';
const there = postgresPrograms() !== null;

describe.skipIf(!there)('accounts of a group', () => {
  let group: Group;
  let owner: Person;
  let ben: Person;

  beforeAll(async () => {
    group = await startGroup();
    // Somebody worked here before there were accounts; and the server was started twice before anybody joined.
    const database = new pg.Client(group.database);
    await database.connect();
    const past = ['019b0000-0000-7000-8000-000000000001', 'Olga Owner', 'OO'];
    await database.query('insert into person (id, name, initials, since) values ($1, $2, $3, now())', past);
    await database.end();
    await group.restart();
    owner = await group.person('Olga Owner', group.firstCode);
    ben = await group.person('Ben Bench', await group.invite(owner, 'bench'));
  });
  afterAll(() => group?.close());

  const listed = async (): Promise<AccountsAnswer> => (await owner.ask('GET', '/api/accounts')).json;
  const idOf = async (name: string): Promise<string> =>
    (await listed()).accounts.find((one) => one.name === name)!.person;
  const post = (person: Person, route: string, body?: unknown) => person.ask('POST', route, body);
  const signIn = (login: string, password: string) => post(group.nobody, '/api/sign-in', { login, password });
  const again = (answer: Answer, name: string) => withCookie(group.address, name, answer.cookie);
  const joins = (code: string, name: string, login: string, password = NEW) =>
    post(group.nobody, '/api/join', { code, name, login, password });
  /** The program asked once, on the group's database. */
  const spoken = (...args: string[]) =>
    spawnSync(
      process.execPath,
      [
        ...PROGRAM,
        ...args,
        ...['--database', group.database, '--originals', path.join(group.folder, 'originals'), '--json'],
      ],
      { cwd: ROOT, encoding: 'utf8' },
    );
  const status = async (person: Person): Promise<number> => (await person.ask('GET', '/api/studies')).status;
  const invited = async (wish: object): Promise<string> => {
    const made = await post(owner, '/api/invitations', { role: 'reader', note: '', ...wish });
    expect(made.status, JSON.stringify(made.json)).toBe(200);
    return made.json.code;
  };

  describe('a password', () => {
    it('is changed with the old one; other sessions end, this one stays, and the act is kept without it', async () => {
      const other = again(await signIn('ben.bench', passwordOf('Ben Bench')), 'Ben Bench');
      expect([await status(ben), await status(other)]).toEqual([200, 200]);
      const weak = await post(ben, '/api/me/password', { old: passwordOf('Ben Bench'), password: 'short' });
      expect(weak).toMatchObject({ status: 422, json: { refusal: { why: 'weak-password' } } });
      const wrong = await post(ben, '/api/me/password', { old: 'carrot carrot carrot', password: NEW });
      expect(wrong).toMatchObject({ status: 422, json: { refusal: { why: 'wrong-password' } } });
      expect(await status(other)).toBe(200);
      const changed = await post(ben, '/api/me/password', { old: passwordOf('Ben Bench'), password: NEW });
      expect(changed).toMatchObject({ status: 200, json: { account: { name: 'Ben Bench' } } });
      expect([await status(ben), await status(other)]).toEqual([200, 401]);
      expect((await signIn('ben.bench', passwordOf('Ben Bench'))).status).toBe(401);
      expect((await signIn('ben.bench', NEW)).status).toBe(200);
      const answer = await listed();
      expect(answer.acts[0]).toMatchObject({ deed: 'change-password', by: 'Ben Bench', whose: 'Ben Bench' });
      expect(JSON.stringify(answer)).not.toContain(NEW);
    });

    it('is nobody’s to change without a session', async () => {
      const { status, json } = await post(group.nobody, '/api/me/password', { old: NEW, password: NEW });
      expect([status, json.refusal.why]).toEqual([401, 'not-signed-in']);
    });

    it('is guessed as slowly here as at the sign-in, and by the same count', async () => {
      const gus = await group.person('Gus Guessed', await group.invite(owner, 'scorer'));
      const guess = () => post(gus, '/api/me/password', { old: 'carrot carrot carrot', password: NEW });
      for (let k = 0; k < 5; k++) expect((await guess()).status).toBe(422);
      for (let k = 0; k < 5; k++) expect((await signIn('gus.guessed', 'wrong wrong wrong')).status).toBe(401);
      expect(await guess()).toMatchObject({ status: 429, json: { refusal: { why: 'too-many-tries' } } });
      // The right one is not taken either while there is a pause.
      const right = { old: passwordOf('Gus Guessed'), password: NEW };
      expect((await post(gus, '/api/me/password', right)).status).toBe(429);
      // Whoever is locked out so is let in by a code.
      const made = await post(owner, `/api/accounts/${await idOf('Gus Guessed')}/password-code`);
      const set = await post(group.nobody, '/api/new-password', { code: made.json.code, password: NEW });
      expect(set.status).toBe(200);
      expect((await signIn('gus.guessed', NEW)).status).toBe(200);
    });
  });

  describe('somebody who forgot theirs', () => {
    it('sets a new one with a code, once; every session ends, and who made the code is kept', async () => {
      const fay = await group.person('Fay Forgot', await group.invite(owner, 'bench'));
      const route = `/api/accounts/${await idOf('Fay Forgot')}/password-code`;
      for (const person of [ben, fay]) expect((await post(person, route)).status).toBe(403);
      const first = await post(owner, route);
      const second = await post(owner, route);
      const days = (Date.parse(second.json.ends_at) - Date.now()) / 86_400_000;
      expect(days).toBeGreaterThan(6.9);
      expect(days).toBeLessThanOrEqual(7);
      const use = (code: string, password = NEW) =>
        post(group.nobody, '/api/new-password', { code, password });
      // A newer code takes an older one's place, and no code does what another is for.
      const unknown = await use('no such code');
      expect(unknown).toMatchObject({ status: 404, json: { refusal: { why: 'no-such-code' } } });
      expect((await use(first.json.code)).json).toEqual(unknown.json);
      expect((await use(await invited({}))).json).toEqual(unknown.json);
      expect((await joins(second.json.code, 'Somebody Else', 'somebody')).json).toEqual(unknown.json);
      // What cannot be taken uses no code up.
      expect((await use(second.json.code, 'short')).json.refusal.why).toBe('weak-password');
      expect(await status(fay)).toBe(200);
      const set = await use(second.json.code);
      expect(set).toMatchObject({ status: 200, json: { account: { login: 'fay.forgot', role: 'bench' } } });
      expect([await status(fay), await status(again(set, 'Fay Forgot'))]).toEqual([401, 200]);
      expect((await use(second.json.code)).json).toEqual(unknown.json);
      expect((await signIn('fay.forgot', passwordOf('Fay Forgot'))).status).toBe(401);
      const { acts, invitations } = await listed();
      expect(acts[0]).toMatchObject({ deed: 'new-password', by: 'Fay Forgot', code_by: 'Olga Owner' });
      const theirs = invitations.filter((one) => one.purpose === 'password' && one.person === 'Fay Forgot');
      expect(theirs.map(({ state, over_by }) => [state, over_by])).toEqual([
        ['used', 'Fay Forgot'],
        ['taken-back', 'Olga Owner'],
      ]);
    });

    it('and is the sole owner gets a code from whoever has the database', async () => {
      const made = spoken('new-password', 'Olga.Owner');
      expect(made.status, made.stderr).toBe(0);
      const { code, ends_at } = JSON.parse(made.stdout);
      expect(Date.parse(ends_at)).toBeGreaterThan(Date.now());
      const set = await post(group.nobody, '/api/new-password', { code, password: `${NEW} too` });
      expect(set).toMatchObject({ status: 200, json: { account: { login: 'olga.owner', role: 'owner' } } });
      expect(await status(owner)).toBe(401);
      owner = again(set, 'Olga Owner');
      expect((await listed()).acts[0]).toMatchObject({
        deed: 'new-password',
        by: 'Olga Owner',
        code_by: null,
      });
      const nobody = spoken('new-password', 'nobody.here');
      expect([nobody.status, JSON.parse(nobody.stdout).refusal.why]).toEqual([1, 'no-such-account']);
    });

    it('needs an account that is open, and not the owner’s own', async () => {
      const own = await post(owner, `/api/accounts/${await idOf('Olga Owner')}/password-code`);
      expect(own).toMatchObject({ status: 422, json: { refusal: { why: 'own-password' } } });
      await group.person('Clo Closed', await group.invite(owner, 'reader'));
      const route = `/api/accounts/${await idOf('Clo Closed')}`;
      const { code } = (await post(owner, `${route}/password-code`)).json;
      expect((await post(owner, route, { role: null })).status).toBe(200);
      expect((await post(owner, `${route}/password-code`)).json.refusal.why).toBe('account-closed');
      expect((await post(owner, route, { role: 'reader' })).status).toBe(200);
      // What was handed out before the account was closed opens nothing when it is open again.
      const late = await post(group.nobody, '/api/new-password', { code, password: NEW });
      expect(late.json.refusal.why).toBe('no-such-code');
      const whose = (await listed()).acts.filter((act) => act.whose === 'Clo Closed');
      expect(whose.map(({ by, closed, role }) => [by, closed, role])).toEqual([
        ['Olga Owner', false, 'reader'],
        ['Olga Owner', true, 'reader'],
      ]);
      const nobody = await post(owner, '/api/accounts/00000000-0000-7000-8000-000000000000/password-code');
      expect(nobody).toMatchObject({ status: 404, json: { refusal: { why: 'no-such-account' } } });
    });
  });

  describe('an invitation', () => {
    it('is taken back by an owner; it stays in the list, and opens no more than a wrong code', async () => {
      const code = await invited({ note: 'for the Tuesday group' });
      const own = (await listed()).invitations[0]!;
      expect(own).toMatchObject({ note: 'for the Tuesday group', state: 'open', by: 'Olga Owner' });
      const back = `/api/invitations/${own.id}/take-back`;
      expect((await post(ben, back)).status).toBe(403);
      expect((await post(group.nobody, back)).status).toBe(401);
      expect((await post(owner, back)).json).toEqual({ done: true });
      const after = (await listed()).invitations.find((one) => one.id === own.id)!;
      expect(after).toMatchObject({ state: 'taken-back', over_by: 'Olga Owner' });
      expect(Date.parse(after.over_at!)).toBeGreaterThanOrEqual(Date.parse(own.made_at));
      const late = await joins(code, 'Late Comer', 'late.comer');
      expect(late.status).toBe(404);
      expect(late.json).toEqual((await joins('a wrong code', 'Late Comer', 'late.comer')).json);
      expect((await listed()).without_account).toEqual([]);
      expect(await post(owner, back)).toMatchObject({
        status: 409,
        json: { refusal: { why: 'code-is-over' } },
      });
    });

    it('stays used where it was, and is named where there is none', async () => {
      await group.person('Una Used', await group.invite(owner, 'reader'));
      const used = (await listed()).invitations.find((one) => one.over_by === 'Una Used')!;
      expect(used.state).toBe('used');
      const back = await post(owner, `/api/invitations/${used.id}/take-back`);
      expect(back).toMatchObject({ status: 409, json: { refusal: { why: 'code-is-over' } } });
      const none = '/api/invitations/00000000-0000-7000-8000-000000000000/take-back';
      expect((await post(owner, none)).status).toBe(404);
    });

    it('ends with the ownership of who made it', async () => {
      const two = await group.person('Otto Owner', await group.invite(owner, 'owner'));
      const way = await group.invite(two, 'owner');
      expect((await post(owner, `/api/accounts/${await idOf('Otto Owner')}`, { role: null })).status).toBe(
        200,
      );
      expect((await joins(way, 'Otto Again', 'otto.again')).json.refusal.why).toBe('no-such-code');
      expect((await listed()).invitations[0]).toMatchObject({ state: 'taken-back', over_by: 'Olga Owner' });
    });
  });

  describe('a name that stands in the record', () => {
    it('is nobody’s to take who was invited as somebody new', async () => {
      expect((await post(ben, '/api/people', { name: 'Paula Past' })).status).toBe(200);
      const code = await invited({});
      for (const name of ['Paula Past', '  paula   PAST ', 'Paula\u200b Past', 'Olga Owner']) {
        const taken = await joins(code, name, 'paula.past');
        expect(taken, name).toMatchObject({ status: 409, json: { refusal: { why: 'name-taken' } } });
      }
      // None of that used the code up, or entered anybody.
      const { without_account } = await listed();
      expect(without_account.map(({ name }) => name)).toEqual(['Paula Past']);
      expect((await joins(code, 'Paula P. Past', 'paula.p')).json.account.name).toBe('Paula P. Past');
    });

    it('is the first owner’s, with the code told at the start; other such codes open nothing then', async () => {
      expect(await idOf('Olga Owner')).toBe('019b0000-0000-7000-8000-000000000001');
      const first = (await listed()).invitations.filter(
        ({ by, purpose }) => by === null && purpose === 'join',
      );
      expect(first.map(({ state, over_by }) => [state, over_by])).toEqual([
        ['taken-back', 'Olga Owner'],
        ['used', 'Olga Owner'],
      ]);
    });

    it('is theirs whom an owner named in the invitation', async () => {
      const [paula] = (await listed()).without_account;
      const code = await invited({ person: paula!.person });
      expect((await listed()).invitations[0]).toMatchObject({ person: 'Paula Past', state: 'open' });
      const other = await joins(code, 'Somebody Else', 'paula.past');
      expect(other).toMatchObject({ status: 422, json: { refusal: { why: 'another-name' } } });
      const joined = await joins(code, '', 'paula.past');
      expect(joined.json.account).toMatchObject({ name: 'Paula Past', person: paula!.person });
      const { without_account } = await listed();
      expect(without_account).toEqual([]);
      const twice = await post(owner, '/api/invitations', {
        role: 'reader',
        note: '',
        person: paula!.person,
      });
      expect(twice).toMatchObject({ status: 409, json: { refusal: { why: 'name-taken' } } });
      const nobody = { role: 'reader', note: '', person: '00000000-0000-7000-8000-000000000000' };
      expect((await post(owner, '/api/invitations', nobody)).json.refusal.why).toBe('no-such-person');
    });
  });
});
