/** Spectra and archives over HTTP, from the file to the answer and from one laboratory to another. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawn } from './broken-photos.ts';
import { servedLaboratory } from './served-laboratory.ts';

type Lab = Awaited<ReturnType<typeof servedLaboratory>>;
let lab: Lab;
let away: Lab;
let particle = '';

const columns = (bands: readonly number[], seed: number): Uint8Array =>
  Buffer.from(
    `cm-1,A\n${Array.from({ length: 850 }, (_, k) => {
      const x = 4000 - 4 * k;
      const y = bands.reduce((sum, at, b) => sum + (0.4 + 0.1 * b) * Math.exp(-(((x - at) / 11) ** 2)), 0.05);
      return `${x},${(y + 0.002 * Math.sin(k * 12.9898 + seed)).toFixed(5)}`;
    }).join('\n')}\n`,
  );
const PE = [2915, 2845, 1472, 1462, 730, 717];
const PS = [3024, 2847, 1601, 1492, 1451, 1027, 694];

beforeAll(async () => {
  lab = await servedLaboratory();
  away = await servedLaboratory();
  const added = await lab.put(lab.filters[0]!.id, '3 pieces.jpg', await drawn(700, 600).jpeg().toBuffer());
  await lab.searched(added.json.photo.id);
  particle = (await lab.ask('GET', `/api/photos/${added.json.photo.id}/particles`)).json.particles[0].id;
});
afterAll(async () => {
  await lab?.close();
  await away?.close();
});

const bring = (at: string, name: string, bytes: Uint8Array, more = '') =>
  lab.ask('PUT', `${at}?name=${encodeURIComponent(name)}${more}`, bytes);

describe('a spectrum', () => {
  it('of a piece is kept before there is anything to hold it against', async () => {
    const { status, json } = await bring(`/api/particles/${particle}/spectra`, 'first.csv', columns(PE, 1));
    expect(status).toBe(200);
    expect(json).toMatchObject({ answer: null, technique: 'infrared' });
    expect(json.says).toMatch(/no known material/);
  });

  it('of a known material is named by its file, or by what is said', async () => {
    const known = `/api/studies/${lab.study.id}/known-spectra`;
    for (const [name, bands, more] of [
      ['HDPE 1.csv', PE, ''],
      ['PS_1.csv', PS, ''],
      ['0001.csv', PE, '&material=polyethylene%20bag'],
    ] as const) {
      expect((await bring(known, name, columns(bands, 2), more)).status).toBe(200);
    }
    const unnamed = await bring(known, '0002.csv', columns(PE, 3));
    expect(unnamed.status).toBe(422);
    expect(unnamed.json.refusal.message).toMatch(/write the material beside it/);
    const { json } = await lab.ask('GET', `/api/studies/${lab.study.id}/spectra`);
    expect(json.known.map((one: { material: string }) => one.material)).toEqual([
      'HDPE',
      'PS',
      'polyethylene bag',
    ]);
  });

  it('of a piece is answered, and the answer is that of the bench test', async () => {
    const { json } = await bring(`/api/particles/${particle}/spectra`, 'second.csv', columns(PE, 4));
    expect(json).toMatchObject({ answer: 'PE' });
    expect(json.likeness).toBeGreaterThan(0.9);
    const picture = await lab.ask('GET', `/api/spectra/${json.id}/picture?width=600`);
    expect(picture.headers['content-type']).toBe('image/svg+xml');
    expect(picture.text).toMatch(/^<svg [\s\S]*second\.csv/);
    const original = await lab.ask('GET', `/api/spectra/${json.id}/original`);
    expect(original.text).toBe(Buffer.from(columns(PE, 4)).toString());
    const answers = await lab.laboratory.records.look((look) =>
      look.benchAnswers.ofParticle(particle as never),
    );
    expect(answers.map(({ answer }) => answer.value)).toEqual(['cannot-tell', 'PE']);
  });

  it.each([
    ['three points', 'a.csv', '4000,1\n3000,2\n2000,1\n', 'too-few-points'],
    ['a megabyte of words named .jdx', 'a.jdx', 'lorem ipsum '.repeat(90_000), 'not-jcamp'],
    ['nothing', 'a.csv', '', 'not-a-spectrum'],
  ])('that is none is refused and nothing of it stays: %s', async (_words, name, text, why) => {
    const before = await lab.laboratory.files.list();
    const { status, json } = await bring(`/api/particles/${particle}/spectra`, name, Buffer.from(text));
    expect(status).toBe(422);
    expect(json.refusal.why).toBe(why);
    expect(json.refusal.message).toContain(`“${name}”`);
    expect(await lab.laboratory.files.list()).toEqual(before);
  });
});

describe('a study', () => {
  it('goes out as an archive and comes in elsewhere with the same claim', async () => {
    const packed = await fetch(`${lab.address}/api/studies/${lab.study.id}/archive`);
    expect(packed.headers.get('content-type')).toBe('application/zip');
    const bytes = new Uint8Array(await packed.arrayBuffer());
    const taken = await away.ask('PUT', '/api/archives', bytes);
    expect(taken.status).toBe(409);
    expect(taken.json.refusal.why).toBe('name-taken');
    const brought = await away.ask('PUT', '/api/archives?as=From%20elsewhere', bytes);
    expect(brought.json).toMatchObject({ study: 'From elsewhere', same_claim: true });
    const spectra = await away.ask('GET', `/api/studies/${brought.json.id}/spectra`);
    expect(spectra.json.pieces).toHaveLength(2);
    const claims = await Promise.all(
      [lab, away].map((one) => one.ask('GET', `/api/studies/${lab.study.id}/claim`)),
    );
    expect(claims[1]!.json).toEqual(claims[0]!.json);
  });

  it('that is no archive is refused in a sentence', async () => {
    const { status, json } = await away.ask('PUT', '/api/archives', Buffer.from('Lorem ipsum'));
    expect(status).toBe(422);
    expect(json.refusal.message).toMatch(/no whole zip archive/);
  });
});
