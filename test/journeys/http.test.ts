/** A laboratory over HTTP: every route against its shape, marks that move the claim, and what must be kept out. */
import { createHash } from 'node:crypto';
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { address, ProgressEvent, ROUTES, type RouteName } from '../../src/api/index.ts';
import { labelCode } from '../../src/study/index.ts';
import { brokenPhotos, drawn, ODD_NAMES } from './broken-photos.ts';
import { servedLaboratory } from './served-laboratory.ts';

let lab: Awaited<ReturnType<typeof servedLaboratory>>;
let screens: string;
let photo: string;
let particle: string;
let made: { round: string; subset: string };

beforeAll(async () => {
  screens = await mkdtemp(join(tmpdir(), 'retentate-screens-'));
  await mkdir(join(screens, 'assets'));
  await writeFile(join(screens, 'index.html'), '<!doctype html><title>Retentate</title>');
  await writeFile(join(screens, 'assets', 'app-1a2b.js'), 'export {};');
  lab = await servedLaboratory(screens);
  const [first] = lab.filters;
  const added = await lab.put(first!.id, '12 pieces.jpg', await drawn(700, 600).jpeg().toBuffer());
  photo = added.json.photo.id;
  await lab.searched(photo);
  particle = (await lab.ask('GET', `/api/photos/${photo}/particles`)).json.particles[0].id;
  for (const [at, filter] of lab.filters.slice(1).entries()) {
    const bytes = await drawn(400 + at, 300)
      .jpeg()
      .toBuffer();
    const { json } = await lab.put(filter.id, `${at === 0 ? 9 : 1} pieces.jpg`, bytes);
    await lab.searched(json.photo.id);
  }
  const round = await lab.ask('POST', `/api/studies/${lab.study.id}/rounds`, {
    name: 'Round',
    what: 'pieces',
    scorers: [lab.person.id],
  });
  const subset = await lab.ask('POST', `/api/studies/${lab.study.id}/subsets`, {
    name: 'Subset',
    test: 'heated-needle',
    pieces: 3,
  });
  expect([round.status, subset.status], `${round.text} ${subset.text}`).toEqual([200, 200]);
  made = { round: round.json.id, subset: subset.json.id };
}, 120_000);
afterAll(async () => {
  await lab?.close();
  await rm(screens, { recursive: true, force: true });
});

/** Parts for any route's path, of things that are there. */
const parts = () => ({
  study: lab.study.id,
  filter: lab.filters[0]!.id,
  run: lab.runs[0]!.id,
  code: labelCode(lab.runs[0]!.id),
  photo,
  particle,
  ...made,
  specimen: lab.specimen.id,
  level: 0,
  column: 0,
  row: 0,
});

describe('the routes', () => {
  const readable = (Object.keys(ROUTES) as RouteName[]).filter(
    (name) => ROUTES[name].method === 'get' && typeof ROUTES[name].answer !== 'string',
  );

  it.each(readable)('%s answers in its shape', async (name) => {
    const { status, json } = await lab.ask('GET', address(ROUTES[name].path, parts()));
    expect(status).toBe(200);
    const shape = ROUTES[name].answer as { parse(given: unknown): unknown };
    // Parsing drops what the shape does not name: equality means that nothing unnamed travels.
    expect(shape.parse(json)).toEqual(json);
  });

  it('agree with the document, one for one', async () => {
    const { json } = await lab.ask('GET', '/api/openapi.json');
    expect(json.openapi).toBe('3.1.0');
    const documented = Object.entries(
      json.paths as Record<string, Record<string, { operationId: string }>>,
    ).flatMap(([path, methods]) =>
      Object.entries(methods).map(([method, { operationId }]) => `${operationId} ${method} ${path}`),
    );
    const listed = Object.entries(ROUTES).map(([name, { method, path }]) => `${name} ${method} ${path}`);
    expect(documented.sort()).toEqual(listed.sort());
    for (const [name, { path, method }] of Object.entries(ROUTES)) {
      const operation = json.paths[path][method];
      const inPath = [...path.matchAll(/\{(\w+)\}/g)].map((m) => m[1]).sort();
      const declared = (operation.parameters ?? []).filter((p: { in: string }) => p.in === 'path');
      expect(declared.map((p: { name: string }) => p.name).sort(), name).toEqual(inPath);
      expect('body' in ROUTES[name as RouteName], name).toBe(operation.requestBody !== undefined);
    }
    // Every shape that is named is defined.
    const named = [...JSON.stringify(json).matchAll(/"#\/components\/schemas\/([^"]+)"/g)].map((m) => m[1]!);
    expect(new Set(named).size).toBeGreaterThan(10);
    for (const name of named) expect(json.components.schemas, name).toHaveProperty([name]);
  });

  it('of accounts say that a laboratory of one person has none', async () => {
    const someone = '00000000-0000-7000-8000-000000000000';
    const asked: readonly (readonly [string, object?])[] = [
      ['/api/sign-in', { login: 'a', password: 'b' }],
      ['/api/join', { code: 'a', name: 'b', login: 'c', password: 'd' }],
      ['/api/me/password', { old: 'a', password: 'b' }],
      ['/api/new-password', { code: 'a', password: 'b' }],
      ['/api/invitations', { role: 'owner', note: '' }],
      [`/api/invitations/${someone}/take-back`],
      [`/api/accounts/${someone}`, { role: 'owner' }],
      [`/api/accounts/${someone}/password-code`],
    ];
    for (const [path, body] of asked) {
      const none = { status: 422, json: { refusal: { why: 'no-accounts' } } };
      expect(await lab.ask('POST', path, body), path).toMatchObject(none);
    }
  });

  it('refuse what is not of the shape, and what is not there', async () => {
    const bad = await lab.ask('POST', `/api/photos/${photo}/marks`, { deed: 'keep', particles: [] });
    expect(bad).toMatchObject({ status: 400, json: { refusal: { why: 'not-of-the-shape' } } });
    const shape = await lab.ask('POST', `/api/photos/${photo}/marks`, {
      deed: 'class',
      particles: ['x'],
      shape: 'blob',
    });
    expect(shape.status).toBe(400);
    const none = '00000000-0000-7000-8000-000000000000';
    expect(await lab.ask('GET', `/api/studies/${none}`)).toMatchObject({ status: 404 });
    expect(await lab.ask('GET', `/api/photos/${none}/particles`)).toMatchObject({ status: 404 });
    expect(await lab.ask('GET', '/api/studies/not-a-uuid')).toMatchObject({ status: 404 });
    expect(await lab.ask('GET', '/api/nothing')).toMatchObject({
      status: 404,
      json: { refusal: { why: 'no-such-route' } },
    });
    expect(await lab.ask('DELETE', `/api/photos/${photo}`)).toMatchObject({ status: 404 });
    const halfJson = await lab.ask('POST', `/api/photos/${photo}/marks`, Buffer.from('{"deed":'), {
      'content-type': 'application/json',
    });
    expect(halfJson).toMatchObject({ status: 400, json: { refusal: { why: 'not-of-the-shape' } } });
    const much = { deed: 'keep', particles: Array.from({ length: 60_000 }, () => none) };
    expect(await lab.ask('POST', `/api/photos/${photo}/marks`, much)).toMatchObject({ status: 413 });
  });

  it('give a claim from counts alone', async () => {
    const five = { portions: [{ mass_g: 1, count: 5 }], blanks: [{ count: 0 }] };
    expect(await lab.ask('POST', '/api/claim', five)).toMatchObject({
      status: 200,
      json: { above_background: true },
    });
    const four = { portions: [{ mass_g: 1, count: 4 }], blanks: [{ count: 0 }] };
    expect((await lab.ask('POST', '/api/claim', four)).json.above_background).toBe(false);
    for (const portion of [
      { mass_g: 1, count: -1 },
      { mass_g: 1, count: 1.5 },
      { count: 3 },
      { mass_g: 0, count: 3 },
    ]) {
      expect((await lab.ask('POST', '/api/claim', { portions: [portion], blanks: [] })).status).toBe(400);
    }
    const recovery = { ...five, recovery: { found: 60, added: 50 } };
    expect(await lab.ask('POST', '/api/claim', recovery)).toMatchObject({
      status: 422,
      json: { refusal: { why: 'recovery-above-one' } },
    });
  });
});

describe('a mark', () => {
  const standing = async () => (await lab.ask('GET', `/api/studies/${lab.study.id}/standing`)).json;
  const countOf = async (name: string) =>
    (await standing()).points.find((point: { name: string }) => point.name === name).count;

  it('changes the count and the claim at once, and undo puts both back', async () => {
    const before = await standing();
    expect(await countOf('S1')).toEqual({ state: 'counted', count: 12, undecided: 12 });
    const { particles } = (await lab.ask('GET', `/api/photos/${photo}/particles`)).json;
    expect(particles).toHaveLength(12);
    const ids = particles.slice(0, 8).map((p: { id: string }) => p.id);
    const marked = await lab.ask('POST', `/api/photos/${photo}/marks`, { deed: 'drop', particles: ids });
    expect(marked.status).toBe(200);
    expect(
      marked.json.particles.map((p: { decision: string; counts: boolean }) => [p.decision, p.counts]),
    ).toEqual(ids.map(() => ['dropped', false]));
    expect(await countOf('S1')).toEqual({ state: 'counted', count: 4, undecided: 4 });
    expect((await standing()).claim).not.toEqual(before.claim);

    expect((await lab.ask('POST', `/api/studies/${lab.study.id}/undo`)).status).toBe(200);
    expect(await standing()).toEqual(before);
    expect((await lab.ask('POST', `/api/studies/${lab.study.id}/redo`)).status).toBe(200);
    expect(await countOf('S1')).toMatchObject({ count: 4 });
    // Back and forth as often as one likes.
    for (const [deed, count] of [
      ['undo', 12],
      ['redo', 4],
      ['undo', 12],
    ] as const) {
      expect((await lab.ask('POST', `/api/studies/${lab.study.id}/${deed}`)).status).toBe(200);
      expect(await countOf('S1')).toMatchObject({ count });
    }
    expect(await lab.ask('POST', `/api/studies/${lab.study.id}/undo`)).toMatchObject({
      status: 409,
      json: { refusal: { why: 'nothing-to-undo' } },
    });
    const { marks } = (await lab.ask('GET', `/api/studies/${lab.study.id}/marks`)).json;
    expect(marks.at(-1)).toMatchObject({ deed: 'drop', undone: true, by: 'Ada Example' });
  });

  it('changes class and colour', async () => {
    const [{ id }] = (await lab.ask('GET', `/api/photos/${photo}/particles`)).json.particles;
    const shaped = await lab.ask('POST', `/api/photos/${photo}/marks`, {
      deed: 'class',
      particles: [id],
      shape: 'film',
    });
    expect(shaped.json.particles[0]).toMatchObject({ id, shape: 'film' });
    const tinted = await lab.ask('POST', `/api/photos/${photo}/marks`, {
      deed: 'colour',
      particles: [id],
      colour: 'red',
    });
    expect(tinted.json.particles[0]).toMatchObject({ id, shape: 'film', colour: 'red' });
  });

  it('on a particle of another photo is refused', async () => {
    const other = (await lab.ask('GET', `/api/filters/${lab.filters[1]!.id}`)).json.photos[0].id;
    const [{ id }] = (await lab.ask('GET', `/api/photos/${other}/particles`)).json.particles;
    const marked = await lab.ask('POST', `/api/photos/${photo}/marks`, { deed: 'drop', particles: [id] });
    expect(marked).toMatchObject({ status: 409, json: { refusal: { why: 'no-such-particle' } } });
  });
});

describe('photos brought in', () => {
  it('good ones among broken ones: each refusal names its file, nothing is kept half', async () => {
    const filter = lab.filters[2]!.id;
    const before = (await lab.laboratory.files.list()).length;
    for (const { name, bytes, says } of await brokenPhotos()) {
      const { status, json } = await lab.put(filter, name, bytes);
      expect(status, name).toBe(422);
      expect(json.refusal.message).toContain(name);
      if (bytes.length > 0) expect(json.refusal.message).toMatch(says);
    }
    expect(await lab.laboratory.files.list()).toHaveLength(before);
    const good = await lab.put(filter, 'good.jpg', await drawn(410, 310).jpeg().toBuffer());
    expect(good).toMatchObject({
      status: 200,
      json: { known: false, photo: { name: 'good.jpg', width_px: 410 } },
    });
    expect(await lab.searched(good.json.photo.id)).toMatchObject({ state: 'searched', particles: 0 });
  });

  it.each([...ODD_NAMES, '../../etc/passwd', '..\\..\\boot.ini', '/etc/passwd', '.', '…', 'x'.repeat(900)])(
    'may have odd names: %j',
    async (name) => {
      const size = 200 + name.length + ((name.codePointAt(0) ?? 0) % 97);
      const bytes = await drawn(size, 200 + ((name.codePointAt(name.length - 1) ?? 0) % 97))
        .png()
        .toBuffer();
      const { status, json } = await lab.put(lab.filters[3]!.id, name, bytes);
      expect(status).toBe(200);
      expect(json.photo.name).not.toMatch(/[/\\\n]/);
      expect(json.photo.name.length).toBeGreaterThan(0);
      const original = await lab.ask('GET', `/api/photos/${json.photo.id}/original`);
      expect(original.headers['content-disposition']).toMatch(/^attachment; filename\*=UTF-8''[\w%.!~-]+$/);
      expect(original.headers['content-type']).toBe('application/octet-stream');
    },
  );

  it('the same again is known and not added twice; on another filter it is refused', async () => {
    const bytes = await drawn(420, 320).jpeg().toBuffer();
    const first = await lab.put(lab.filters[4]!.id, 'once.jpg', bytes);
    const again = await lab.put(lab.filters[4]!.id, 'again.jpg', bytes);
    expect(again.json).toMatchObject({ known: true, photo: { id: first.json.photo.id, name: 'once.jpg' } });
    expect(first.json.photo.sha256).toBe(createHash('sha256').update(bytes).digest('hex'));
    expect(await lab.put(lab.filters[5]!.id, 'once.jpg', bytes)).toMatchObject({
      status: 409,
      json: { refusal: { why: 'on-another-filter' } },
    });
    const tile = await lab.ask('GET', `/api/photos/${first.json.photo.id}/tiles/0/0/0`);
    expect(tile).toMatchObject({ status: 200, headers: { 'content-type': 'image/jpeg' } });
    expect(await lab.ask('GET', `/api/photos/${first.json.photo.id}/tiles/0/1/0`)).toMatchObject({
      status: 404,
    });
    expect(await lab.ask('GET', `/api/photos/${first.json.photo.id}/tiles/x/0/0`)).toMatchObject({
      status: 404,
    });
  });

  it('are told of as they are searched', async () => {
    const events: ProgressEvent[] = [];
    const stop = new AbortController();
    const stream = await fetch(`${lab.address}/api/progress`, { signal: stop.signal });
    expect(stream.headers.get('content-type')).toContain('text/event-stream');
    const { json } = await lab.put(
      lab.filters[4]!.id,
      '3 pieces.jpg',
      await drawn(430, 330).jpeg().toBuffer(),
    );
    const reader = stream.body!.pipeThrough(new TextDecoderStream()).getReader();
    let text = '';
    while (!events.some((e) => e.what === 'photo' && e.photo === json.photo.id && e.state === 'searched')) {
      const { value, done } = await reader.read();
      if (done) throw new Error('the stream ended');
      text += value;
      const blocks = text.split('\n\n');
      text = blocks.pop()!;
      for (const block of blocks) {
        const data = /^data: (.*)$/m.exec(block)?.[1];
        if (data) events.push(ProgressEvent.parse(JSON.parse(data)));
      }
    }
    stop.abort();
    expect(events[0]!.what).toBe('queue');
    const shares = events.flatMap((e) => (e.what === 'photo' && e.photo === json.photo.id ? [e.share] : []));
    expect(shares).toEqual([0, 0.5, 1]);
  });
});

describe('the door', () => {
  it.each([
    ['a foreign Host', { host: 'evil.example' }],
    ['a foreign Host at the right port', { host: 'evil.example:PORT' }],
    ['this machine by a wrong port', { host: '127.0.0.1:1' }],
    ['a foreign Origin', { origin: 'https://evil.example' }],
    ['no origin at all (null)', { origin: 'null' }],
    ['another port of this machine', { origin: 'http://127.0.0.1:1' }],
    ['a request that the browser calls cross-site', { 'sec-fetch-site': 'cross-site' }],
  ])('refuses %s', async (_what, headers) => {
    const port = new URL(lab.address).port;
    const sent = Object.fromEntries(Object.entries(headers).map(([k, v]) => [k, v.replace('PORT', port)]));
    const answer = await lab.ask('GET', '/api/studies', undefined, sent);
    expect(answer.status).toBe(403);
    expect(answer.text).not.toContain('Boards');
    const marked = await lab.ask('POST', `/api/studies/${lab.study.id}/undo`, undefined, sent);
    expect(marked.status).toBe(403);
  });

  it.each(['127.0.0.1', 'localhost'])('opens to its own pages at %s', async (name) => {
    const port = new URL(lab.address).port;
    const own = { host: `${name}:${port}`, origin: `http://${name}:${port}` };
    expect((await lab.ask('GET', '/api/studies', undefined, own)).status).toBe(200);
  });

  it('sends the page with a policy that lets nothing foreign in, and files that never change for ever', async () => {
    const page = await lab.ask('GET', '/studies/any/filters');
    expect(page).toMatchObject({ status: 200, headers: { 'cache-control': 'no-cache' } });
    expect(page.text).toContain('<title>Retentate</title>');
    const policy = String(page.headers['content-security-policy']);
    expect(policy).toContain("default-src 'none'");
    expect(policy).toMatch(/script-src 'self'(;|$)/);
    expect(page.headers['x-content-type-options']).toBe('nosniff');
    const file = await lab.ask('GET', '/assets/app-1a2b.js');
    expect(file.headers['cache-control']).toContain('immutable');
    expect(file.headers['content-type']).toContain('text/javascript');
  });

  it.each([
    '/../package.json',
    '/assets/../../package.json',
    '/%2e%2e/package.json',
    '/assets/%2e%2e%2f%2e%2e%2fetc/passwd',
    '/assets/none.js',
  ])('never makes an address into a path: %s', async (path) => {
    const { status, text } = await lab.ask('GET', path);
    expect([200, 404]).toContain(status);
    expect(text).not.toContain('"name"');
    expect(text).not.toContain('root:');
  });

  it('told of no machine failure in all of this', () => {
    expect(lab.told).toEqual([]);
  });
});
