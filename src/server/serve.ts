import type { AddressInfo } from 'node:net';
import { serve as listen } from '@hono/node-server';
import { laboratoryApp } from './laboratory-app.ts';
import { photoQueue } from './photo-queue.ts';
import type { Served } from './served.ts';

export const PORT = 7319;

export interface Serving {
  readonly address: string;
  close(): Promise<void>;
}

/**
 * Serves a laboratory on this machine alone. Where the wished port is taken the next ones are tried; port 0 takes any.
 */
export async function serve(served: Served, wished = PORT): Promise<Serving> {
  const queue = photoQueue(served);
  let port = 0;
  const app = laboratoryApp(served, queue, () => port);
  const { server, info } = await onFreePort(app.fetch, wished);
  port = info.port;
  await queue.resume();
  return {
    address: `http://127.0.0.1:${port}`,
    close: () =>
      new Promise((resolve) => {
        queue.close();
        server.close(() => resolve());
        // Streams of progress never end by themselves.
        if ('closeAllConnections' in server) server.closeAllConnections();
      }),
  };
}

const TRIES = 20;

async function onFreePort(fetch: Parameters<typeof listen>[0]['fetch'], wished: number) {
  for (let port = wished; ; port++) {
    try {
      return await new Promise<{ server: ReturnType<typeof listen>; info: AddressInfo }>(
        (resolve, reject) => {
          const server = listen({ fetch, port, hostname: '127.0.0.1' }, (info) => resolve({ server, info }));
          server.once('error', reject);
        },
      );
    } catch (error) {
      const taken = (error as NodeJS.ErrnoException).code === 'EADDRINUSE';
      if (!taken || wished === 0 || port - wished >= TRIES) throw error;
    }
  }
}
