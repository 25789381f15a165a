/** Telephones of the room: let in by a code, kept to what the bench needs, turned away when revoked. */
import { randomUUID } from 'node:crypto';
import http from 'node:http';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawn } from './broken-photos.ts';
import { servedLaboratory } from './served-laboratory.ts';

type Lab = Awaited<ReturnType<typeof servedLaboratory>>;
interface Heard {
  readonly status: number;
  readonly cookie: string;
  // biome-ignore lint/suspicious/noExplicitAny: answers are looked into by the tests, field by field
  readonly json: any;
}

describe('the laboratory on the network of the room', () => {
  let lab: Lab;
  beforeAll(async () => {
    // This machine's own address stands in for one of the room.
    lab = await servedLaboratory(null, () => [{ name: 'room', address: '127.0.0.1' }]);
  });
  afterAll(() => lab.close());

  const network = async () => (await lab.ask('GET', '/api/network')).json;
  const open = async () => (await lab.ask('POST', '/api/network/open', { address: '127.0.0.1' })).json;
  const from = (
    address: string,
    method: string,
    path: string,
    { body, ...headers }: { body?: unknown; [header: string]: unknown } = {},
  ): Promise<Heard> =>
    new Promise((resolve, reject) => {
      const bytes = body instanceof Uint8Array ? body : body === undefined ? null : JSON.stringify(body);
      const type = body instanceof Uint8Array ? 'application/octet-stream' : 'application/json';
      const request = http.request(
        address + path,
        {
          method,
          agent: false,
          headers: {
            ...(bytes ? { 'content-type': type, 'content-length': Buffer.byteLength(bytes) } : {}),
            ...(headers as Record<string, string>),
          },
        },
        (response) => {
          let text = '';
          response.on('data', (part) => {
            text += part;
          });
          response.on('end', () =>
            resolve({
              status: response.statusCode ?? 0,
              cookie: (response.headers['set-cookie']?.[0] ?? '').split(';')[0]!,
              json: /json/.test(response.headers['content-type'] ?? '') ? JSON.parse(text) : null,
            }),
          );
        },
      );
      request.on('error', reject);
      request.end(bytes ?? undefined);
    });
  const pair = async () => {
    const { address, pairing } = (await lab.ask('POST', '/api/network/pairing')).json;
    const paired = await from(address, 'POST', '/api/network/accept', {
      body: { code: pairing.code, name: 'telephone' },
    });
    expect(paired.status).toBe(200);
    return { address: address as string, cookie: paired.cookie, device: paired.json.device as string };
  };

  it('is closed until somebody opens it, on an own private address alone', async () => {
    expect(await network()).toMatchObject({ open: false, address: null, pairing: null, devices: [] });
    expect((await lab.ask('POST', '/api/network/pairing')).json.refusal.why).toBe('network-closed');
    const other = await lab.ask('POST', '/api/network/open', { address: '0.0.0.0' });
    expect(other.json.refusal).toMatchObject({ why: 'not-an-own-address' });
    const opened = await open();
    expect(opened.open).toBe(true);
    expect(opened.pairing.link).toBe(`${opened.address}/pair#${opened.pairing.code}`);
    expect(opened.address).not.toBe(lab.address);
  });

  it('turns an unpaired device away from everything but pairing', async () => {
    const { address } = await network();
    for (const path of ['/api/studies', '/api/network', '/api/openapi.json', '/api']) {
      expect(await from(address, 'GET', path)).toMatchObject({
        status: 401,
        json: { refusal: { why: 'not-paired' } },
      });
    }
    const guess = (code: unknown) =>
      from(address, 'POST', '/api/network/accept', { body: { code, name: 'x' } });
    expect((await guess('0000-0000')).json.refusal.why).toBe('wrong-code');
    expect((await guess(7)).status).toBe(400);
    expect((await from(address, 'GET', '/api/studies', { cookie: 'retentate_device=guessed' })).status).toBe(
      401,
    );
  });

  it('lets a paired device carry out a run and bring in photographs, and nothing else', async () => {
    const { address, cookie } = await pair();
    const ask = (method: string, path: string, body?: unknown) =>
      from(address, method, path, { cookie, ...(body ? { body } : {}) });
    expect((await ask('GET', '/api/studies')).json.studies[0].name).toBe('Boards');
    const run = lab.runs[0]!.id;
    const tap = {
      id: randomUUID(),
      run,
      device: 'telephone',
      number: 1,
      deed: { do: 'begin' },
      at: '2026-01-05T09:00:00.000Z',
    };
    expect((await ask('POST', '/api/bench/taps', { taps: [tap] })).json.taps[0].state).toBe('done');
    const bytes = await drawn(320, 240).jpeg().toBuffer();
    const added = await ask('PUT', `/api/filters/${lab.filters[0]!.id}/photos?name=2%20pieces.jpg`, bytes);
    expect(added.json.photo).toMatchObject({ name: '2 pieces.jpg', width_px: 320 });
    expect((await ask('PUT', `/api/runs/${run}/setup/photos?name=a.jpg`, bytes)).status).toBe(200);
    for (const [method, path, body] of [
      ['GET', '/api/network', undefined],
      ['POST', '/api/network/close', undefined],
      ['POST', '/api/network/pairing', undefined],
      ['POST', `/api/studies/${lab.study.id}/undo`, undefined],
      ['POST', `/api/studies/${lab.study.id}/runs`, { runs: [] }],
      ['GET', `/api/photos/${added.json.photo.id}/original`, undefined],
      ['GET', '/api/studies/../network', undefined],
    ] as const) {
      expect(await ask(method, path, body), `${method} ${path}`).toMatchObject({
        status: 403,
        json: { refusal: { why: 'not-for-devices' } },
      });
    }
  });

  it('keeps its guards strict: foreign hosts, origins and sites stay out, paired or not', async () => {
    const { address, cookie } = await pair();
    const own = address.replace('http://', '');
    const why = async (headers: Record<string, string>) =>
      (await from(address, 'GET', '/api/studies', { cookie, ...headers })).json.refusal?.why;
    expect(await why({ host: 'evil.example' })).toBe('foreign-host');
    expect(await why({ host: lab.address.replace('http://', '') })).toBe('foreign-host');
    expect(await why({ host: own, origin: 'http://evil.example' })).toBe('foreign-origin');
    expect(await why({ host: own, origin: lab.address })).toBe('foreign-origin');
    expect(await why({ host: own, origin: 'null' })).toBe('foreign-origin');
    expect(await why({ host: own, 'sec-fetch-site': 'cross-site' })).toBe('foreign-origin');
    expect(await why({ host: own, 'sec-fetch-site': 'same-site' })).toBe('foreign-origin');
    expect(await why({ host: own, origin: address, 'sec-fetch-site': 'same-origin' })).toBeUndefined();
    // The computer's own door never answers to the address of the room, nor to a device's cookie from there.
    const inner = await lab.ask('GET', '/api/studies', undefined, { host: own, cookie });
    expect(inner.json.refusal.why).toBe('foreign-host');
  });

  it('forgets a device that is revoked, and all of them when it is closed', async () => {
    const one = await pair();
    const two = await pair();
    const status = async ({ address, cookie }: typeof one) =>
      (await from(address, 'GET', '/api/studies', { cookie })).status;
    await lab.ask('POST', `/api/network/devices/${one.device}/revoke`);
    expect([await status(one), await status(two)]).toEqual([401, 200]);
    expect((await lab.ask('POST', `/api/network/devices/${one.device}/revoke`)).status).toBe(404);
    const closed = (await lab.ask('POST', '/api/network/close')).json;
    expect(closed).toMatchObject({ open: false, devices: [] });
    await expect(status(two)).rejects.toThrow();
    const again = await open();
    expect((await from(again.address, 'GET', '/api/studies', { cookie: two.cookie })).status).toBe(401);
  });
});
