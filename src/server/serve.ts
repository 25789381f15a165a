import type { AddressInfo } from 'node:net';
import { serve as listen } from '@hono/node-server';
import { groupQueue } from './group-queue.ts';
import { laboratoryApp } from './laboratory-app.ts';
import { type Network, network } from './network/network.ts';
import { type OwnAddress, privateAddresses } from './network/private-addresses.ts';
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
export async function serve(
  served: Served,
  wished = PORT,
  addresses: () => readonly OwnAddress[] = privateAddresses,
): Promise<Serving> {
  const queue = served.group ? groupQueue(served, served.group.jobs) : photoQueue(served);
  let port = 0;
  // A group is on the network already and signs its people in; one person's laboratory is opened to the room on wish alone.
  const room: Network | null = served.group
    ? null
    : network({
        laboratory: (request) => app.fetch(request),
        inner: () => `127.0.0.1:${port}`,
        now: () => Date.parse(served.clock.now()),
        addresses,
      });
  const app = laboratoryApp(room ? { ...served, network: room } : served, queue, () => port);
  const { server, info } = await onFreePort(app.fetch, wished, served.group?.host ?? '127.0.0.1');
  port = info.port;
  await queue.resume();
  return {
    address: served.group?.site ?? `http://127.0.0.1:${port}`,
    close: () =>
      new Promise((resolve) => {
        queue.close();
        void room?.close();
        server.close(() => resolve());
        // Streams of progress never end by themselves.
        if ('closeAllConnections' in server) server.closeAllConnections();
      }),
  };
}

const TRIES = 20;

async function onFreePort(fetch: Parameters<typeof listen>[0]['fetch'], wished: number, hostname: string) {
  for (let port = wished; ; port++) {
    try {
      return await new Promise<{ server: ReturnType<typeof listen>; info: AddressInfo }>(
        (resolve, reject) => {
          const server = listen({ fetch, port, hostname }, (info) => resolve({ server, info }));
          server.once('error', reject);
        },
      );
    } catch (error) {
      const taken = (error as NodeJS.ErrnoException).code === 'EADDRINUSE';
      if (!taken || wished === 0 || port - wished >= TRIES) throw error;
    }
  }
}
