import type { AddressInfo } from 'node:net';
import { serve as listen } from '@hono/node-server';
import type { NetworkJson } from '../../api/index.ts';
import { done, type Outcome, refused } from '../../units/index.ts';
import { networkDoor } from './network-door.ts';
import { pairingDesk } from './pairing.ts';
import { type OwnAddress, privateAddresses } from './private-addresses.ts';

/** The laboratory on the network of the room: closed until somebody opens it, and only for devices that were paired. */
export interface Network {
  state(): NetworkJson;
  open(address: string): Promise<Outcome<NetworkJson>>;
  close(): Promise<NetworkJson>;
  offer(): Outcome<NetworkJson>;
  revoke(device: string): Outcome<NetworkJson>;
}

export interface NetworkNeeds {
  readonly laboratory: (request: Request) => Response | Promise<Response>;
  /** Host of the laboratory's own door. */
  readonly inner: () => string;
  readonly now: () => number;
  readonly addresses?: () => readonly OwnAddress[];
}

interface Listening {
  readonly host: string;
  end(): Promise<void>;
}

export function network({ laboratory, inner, now, addresses = privateAddresses }: NetworkNeeds): Network {
  const desk = pairingDesk(now);
  let listening: Listening | null = null;
  const instant = (at: number) => new Date(at).toISOString();
  const state = (): NetworkJson => ({
    open: listening !== null,
    address: listening && `http://${listening.host}`,
    choices: addresses().map(({ name, address }) => ({ name, address })),
    pairing:
      listening && desk.offered
        ? {
            code: desk.offered.code,
            // Behind the hash: it is never sent, so it stands in no log.
            link: `http://${listening.host}/pair#${desk.offered.code}`,
            until: instant(desk.offered.until),
          }
        : null,
    devices: desk.devices.map(({ id, name, since, seen, until }) => ({
      id,
      name,
      since: instant(since),
      seen: instant(seen),
      until: instant(until),
    })),
  });
  const close = async (): Promise<NetworkJson> => {
    const was = listening;
    listening = null;
    desk.forgetAll();
    await was?.end();
    return state();
  };
  return {
    state,
    close,
    async open(address) {
      if (!addresses().some((own) => own.address === address)) {
        return refused({
          why: 'not-an-own-address',
          message: `${address} is no private address of this machine; choose one that is offered.`,
        });
      }
      await close();
      listening = await listenOn(address, (host) => networkDoor({ host, inner, desk, laboratory }));
      desk.offer();
      return done(state());
    },
    offer() {
      if (!listening) {
        return refused({
          why: 'network-closed',
          message: 'Open the laboratory to the network of the room first.',
        });
      }
      desk.offer();
      return done(state());
    },
    revoke(device) {
      return desk.revoke(device)
        ? done(state())
        : refused({ why: 'no-such-device', message: 'That device is not paired any more.' });
    },
  };
}

async function listenOn(
  address: string,
  door: (host: () => string) => (request: Request) => Promise<Response>,
): Promise<Listening> {
  let host = '';
  const handle = door(() => host);
  const server = await new Promise<ReturnType<typeof listen>>((resolve, reject) => {
    const started = listen({ fetch: handle, port: 0, hostname: address }, (info: AddressInfo) => {
      host = `${address}:${info.port}`;
      resolve(started);
    });
    started.once('error', reject);
  });
  return {
    host,
    end: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        if ('closeAllConnections' in server) server.closeAllConnections();
      }),
  };
}
