/** Hostile inputs through the real HTTP door, and a laboratory that is whole afterwards. */
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import net from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sealRound } from '../../src/actions/index.ts';
import { checkOpen, systemClock, systemNames, zipReader } from '../../src/store/index.ts';
import type { BlindRound } from '../../src/study/index.ts';
import { given } from '../engines/small-study.ts';
import { drawn, oneColourPng } from './broken-photos.ts';
import { type Hostile, hostileInputs } from './hostile-inputs.ts';
import { servedLaboratory } from './served-laboratory.ts';

let lab: Awaited<ReturnType<typeof servedLaboratory>>;
let screens: string;
let inputs: readonly Hostile[];
let key: BlindRound;

beforeAll(async () => {
  screens = await mkdtemp(join(tmpdir(), 'retentate-screens-'));
  await mkdir(join(screens, 'assets'));
  await writeFile(join(screens, 'index.html'), '<!doctype html><title>Retentate</title>');
  lab = await servedLaboratory(screens);
  const added = await lab.put(lab.filters[0]!.id, '3 pieces.jpg', await drawn(700, 600).jpeg().toBuffer());
  await lab.searched(added.json.photo.id);
  const control = lab.filters[lab.runs.findIndex(({ kind }) => kind !== 'specimen')]!;
  const other = await lab.put(control.id, '2 pieces.jpg', await drawn(720, 600).jpeg().toBuffer());
  await lab.searched(other.json.photo.id);
  const sealed = given(
    await sealRound(
      { records: lab.laboratory.records, clock: systemClock, names: systemNames },
      {
        study: lab.study.id,
        name: 'Sealed',
        what: 'pieces',
        scorers: [lab.person.id],
        third: null,
        knownSet: null,
        mostOfEach: null,
        guessShare: 0.5,
        againShare: 0,
        by: lab.person.id,
      },
    ),
  );
  key = sealed;
  const there = {
    round: sealed.id,
    scorer: lab.person.id,
    study: lab.study.id,
    filter: lab.filters[0]!.id,
    photo: added.json.photo.id,
    port: Number(new URL(lab.address).port),
  };
  inputs = hostileInputs(there, () => oneColourPng(60_000, 60_000));
}, 120_000);
afterAll(async () => {
  await lab?.close();
  await rm(screens, { recursive: true, force: true });
});

/** A request whose path and headers go out letter for letter; libraries would mend them. */
function send({
  method,
  path,
  headers = {},
  body,
  bytes,
}: Hostile): Promise<{ status: number; text: string; head: string }> {
  const { hostname, port, host } = new URL(lab.address);
  const content =
    bytes !== undefined
      ? Buffer.from(typeof bytes === 'function' ? bytes() : bytes)
      : body !== undefined
        ? Buffer.from(JSON.stringify(body))
        : null;
  const all: Record<string, string> = {
    host,
    connection: 'close',
    ...(content ? { 'content-type': 'application/json', 'content-length': String(content.length) } : {}),
    ...headers,
  };
  return new Promise((resolve, reject) => {
    const socket = net.connect(Number(port), hostname);
    const parts: Buffer[] = [];
    socket.on('data', (part) => parts.push(part));
    socket.on('error', (failure: NodeJS.ErrnoException) => {
      // A body that is refused may cost the connection, after the answer.
      if (parts.length > 0 || failure.code === 'EPIPE') return;
      reject(failure);
    });
    socket.on('close', () => {
      const whole = Buffer.concat(parts).toString('utf8');
      const [head = '', ...rest] = whole.split('\r\n\r\n');
      resolve({ status: Number(head.split(' ')[1] ?? 0), text: rest.join('\r\n\r\n'), head });
    });
    const lines = Object.entries(all).map(([name, value]) => `${name}: ${value}`);
    socket.write(`${method} ${path} HTTP/1.1\r\n${lines.join('\r\n')}\r\n\r\n`);
    if (content) socket.write(content);
  });
}

const SECRETS = /root:[x*]?:0:|\[fonts\]|"layout":/;

describe('hostile inputs', () => {
  it('are at least two hundred, each its own', () => {
    expect(inputs.length).toBeGreaterThanOrEqual(200);
    const each = inputs.map((one) => JSON.stringify([one.method, one.path, one.headers, one.body, one.what]));
    expect(new Set(each).size).toBe(each.length);
  });

  it('do no harm, one after the other', async () => {
    const wrong: string[] = [];
    for (const input of inputs) {
      const { status, text, head } = await send(input);
      const say = (why: string) =>
        wrong.push(
          `${input.group}: ${input.what} (${input.method} ${input.path.slice(0, 90)}): ${why}; ${status} ${text.slice(0, 160)}`,
        );
      if (status >= 500 && status !== 501) say('the machine failed');
      if (SECRETS.test(text)) say('something of the machine came out');
      if ('refused' in input.expect) {
        if (!input.expect.refused.includes(status)) say(`expected ${input.expect.refused.join(' or ')}`);
        // What the platform itself turns away before any door has no sentence of ours.
        else if (/application\/json/i.test(head) && !/"message":".+[.…]"/.test(text)) say('no sentence');
      } else if ('kept' in input.expect) {
        if (status !== 200) say('not taken as the text it is');
        else if (!/application\/json/i.test(head)) say('not answered as JSON');
        else if (
          !JSON.stringify(JSON.parse(bodyOf(text))).includes(JSON.stringify(input.expect.kept).slice(1, -1))
        )
          say('not given back letter for letter');
      } else if ('sealed' in input.expect) {
        for (const part of await partsOf(input, text))
          if (tellsTheKey(part)) say('something of the key came out');
      } else if (status === 200 && !text.includes('<title>Retentate</title>'))
        say('something else than the page came out');
      if (!/x-content-type-options: nosniff/i.test(head) && status !== 400 && status !== 501)
        say('without its guards');
    }
    expect(wrong).toEqual([]);
  });

  it('leave the laboratory whole, and no prototype touched', async () => {
    expect((await checkOpen(lab.laboratory)).problems).toEqual([]);
    expect(Object.hasOwn(Object.prototype, 'name')).toBe(false);
    const { json } = await lab.ask('GET', `/api/studies/${lab.study.id}/standing`);
    expect(json.claim.format).toBe('retentate/claim/1');
    expect(lab.told).toEqual([]);
  });
});

/** Texts of an answer; those within, where it is an archive. */
async function partsOf({ path }: Hostile, text: string): Promise<readonly string[]> {
  if (!path.endsWith('/archive')) return [text];
  const file = join(screens, 'study.zip');
  await writeFile(file, new Uint8Array(await (await fetch(`${lab.address}${path}`)).arrayBuffer()));
  const zip = given(await zipReader(file, 'The archive'));
  const parts: string[] = [];
  for (const { path: at } of zip.entries)
    if (!at.startsWith('originals/')) parts.push(given(await zip.text(at)).text);
  await zip.close();
  expect(parts.length).toBeGreaterThan(20);
  return parts;
}

/** The seed gives the key away; so does a code beside what it stands for. A packet shows codes, and no place. */
const tellsTheKey = (text: string): boolean =>
  text.includes(String(key.seed)) ||
  key.key.some(
    ({ code, particle, photo }) =>
      new RegExp(`\\b${code}\\b`).test(text) && (text.includes(particle ?? photo) || text.includes(photo)),
  );

/** The body of an answer that may have come in chunks. */
function bodyOf(text: string): string {
  const from = text.indexOf('{');
  return text.slice(from, text.lastIndexOf('}') + 1);
}
