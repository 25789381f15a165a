import { z } from 'zod';
import { NetworkJson, OpenNetworkWish, Paired, PairingWish } from '../network.ts';
import { route } from '../route.ts';

export const NETWORK_ROUTES = {
  network: route({
    method: 'get',
    path: '/api/network',
    does: 'Whether telephones of the same network can reach this laboratory, and which are paired.',
    answer: NetworkJson,
  }),
  openNetwork: route({
    method: 'post',
    path: '/api/network/open',
    does: 'Open the laboratory to paired telephones of the same network, on one private address.',
    body: OpenNetworkWish,
    answer: NetworkJson,
  }),
  closeNetwork: route({
    method: 'post',
    path: '/api/network/close',
    does: 'Close it again; every paired device is forgotten.',
    answer: NetworkJson,
  }),
  offerPairing: route({
    method: 'post',
    path: '/api/network/pairing',
    does: 'Offer a code that lets in one device within five minutes; the code before it ends.',
    answer: NetworkJson,
  }),
  revokeDevice: route({
    method: 'post',
    path: '/api/network/devices/{device}/revoke',
    does: 'Forget a paired device; its next request is turned away.',
    params: z.object({ device: z.string().max(60) }),
    answer: NetworkJson,
  }),
  acceptPairing: route({
    method: 'post',
    path: '/api/network/accept',
    does: 'Pair this device by the code; answered only where the laboratory is opened to the network.',
    body: PairingWish,
    answer: Paired,
  }),
} as const;
