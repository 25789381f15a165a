import type { NETWORK_ROUTES } from '../../api/index.ts';
import { refused } from '../../units/index.ts';
import { type Answering, answered, part, valid } from '../answers.ts';
import type { Served } from '../served.ts';

const NONE = {
  why: 'no-network',
  message: 'A group’s server is on the network already: sign in on the telephone instead of pairing it.',
};

/** What the routes of the network do on the computer itself; a device's own pairing is answered at its door. */
export const networkAnswers = ({
  network,
}: Served): Readonly<Record<keyof typeof NETWORK_ROUTES, Answering>> => ({
  network: (c) =>
    network
      ? c.json(network.state())
      : c.json({ open: false, address: null, choices: [], pairing: null, devices: [] }),
  openNetwork: async (c) =>
    answered(c, network ? await network.open(valid<{ address: string }>(c, 'json').address) : refused(NONE)),
  closeNetwork: async (c) => (network ? c.json(await network.close()) : answered(c, refused(NONE))),
  offerPairing: (c) => answered(c, network ? network.offer() : refused(NONE)),
  revokeDevice: (c) => answered(c, network ? network.revoke(part(c, 'device')) : refused(NONE)),
  acceptPairing: (c) =>
    answered(
      c,
      refused({
        why: 'not-here',
        message: 'This is the computer itself; pairing is for telephones, at the address that it shows.',
      }),
    ),
});
