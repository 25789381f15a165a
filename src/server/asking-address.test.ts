import { Hono } from 'hono';
import { describe, expect, it } from 'vitest';
import { askingAddress } from './asking-address.ts';

async function asked(remoteAddress: string, forwarded: string | null, behindProxy: boolean): Promise<string> {
  const app = new Hono().get('/', (c) => c.text(askingAddress(c, behindProxy)));
  const headers = forwarded === null ? undefined : { 'x-forwarded-for': forwarded };
  const env = { incoming: { socket: { remoteAddress } } };
  return (await app.request('/', headers ? { headers } : {}, env)).text();
}

describe('who a request comes from', () => {
  it('is who is connected, whatever a header says, where no proxy stands before the server', async () => {
    expect(await asked('203.0.113.9', '198.51.100.1', false)).toBe('203.0.113.9');
    expect(await asked('127.0.0.1', '198.51.100.1', false)).toBe('127.0.0.1');
  });

  it('is what a proxy nearby wrote last; what the asker wrote before it is not believed', async () => {
    for (const proxy of ['127.0.0.1', '::1', '::ffff:127.0.0.1', '172.18.0.1', '::ffff:10.0.0.2']) {
      expect(await asked(proxy, '192.0.2.66, 198.51.100.1', true), proxy).toBe('198.51.100.1');
    }
    expect(await asked('127.0.0.1', null, true)).toBe('127.0.0.1');
  });

  it('is who is connected where somebody reaches the server past the proxy', async () => {
    expect(await asked('203.0.113.9', '198.51.100.1', true)).toBe('203.0.113.9');
  });
});
