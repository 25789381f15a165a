/**
 * The door that telephones of the same network come in by. It stands before the laboratory's own: Host and Origin must be
 * exactly the address that was opened, the device must be paired, and it may use what the bench and bringing in
 * photographs need, nothing else.
 */
import { NETWORK_ROUTES, type PairingWish, ROUTES, type RouteName } from '../../api/index.ts';
import type { PairingDesk } from './pairing.ts';

/** What a paired device may use. */
const FOR_DEVICES: readonly RouteName[] = [
  'laboratory',
  'me',
  'studies',
  'study',
  'standing',
  'runs',
  'filters',
  'filter',
  'people',
  'bench',
  'runSheet',
  'taps',
  'runChoices',
  'withdrawn',
  'withdrawOrPutBack',
  'movePhoto',
  'photoMoves',
  'photoPlaces',
  'placePhoto',
  'addFilter',
  'addFraction',
  'addWeighing',
  'weighings',
  'addPhoto',
  'addSetupPhoto',
  'setupPicture',
  'photo',
  'tile',
  'labels',
  'byCode',
  'flow',
  'progress',
];

const COOKIE = 'retentate_device';
const patterns = FOR_DEVICES.map((name) => ({
  method: ROUTES[name].method.toUpperCase(),
  path: new RegExp(`^${ROUTES[name].path.replaceAll(/\{\w+\}/g, '[^/]+')}$`),
}));

const refusal = (status: number, why: string, message: string): Response =>
  new Response(JSON.stringify({ refusal: { why, message } }), {
    status,
    headers: {
      'content-type': 'application/json; charset=utf-8',
      'cache-control': 'no-store',
      'x-content-type-options': 'nosniff',
    },
  });

const tokenOf = (request: Request): string | null => {
  for (const part of (request.headers.get('cookie') ?? '').split(';')) {
    const [name, value] = part.trim().split('=');
    if (name === COOKIE && value) return value;
  }
  return null;
};

export interface NetworkDoor {
  readonly host: () => string;
  /** Host of the laboratory's own door on this machine, under which let-in requests go on. */
  readonly inner: () => string;
  readonly desk: PairingDesk;
  readonly laboratory: (request: Request) => Response | Promise<Response>;
}

export const networkDoor =
  ({ host, inner, desk, laboratory }: NetworkDoor) =>
  async (request: Request): Promise<Response> => {
    const own = host();
    if ((request.headers.get('host') ?? '') !== own) {
      return refusal(403, 'foreign-host', `This laboratory answers telephones at http://${own} alone.`);
    }
    const origin = request.headers.get('origin');
    if (origin !== null && origin !== `http://${own}`) {
      return refusal(403, 'foreign-origin', 'A page of another site may not use this laboratory.');
    }
    const site = request.headers.get('sec-fetch-site');
    const { pathname, search } = new URL(request.url);
    const isApi = pathname === '/api' || pathname.startsWith('/api/');
    if (isApi && (site === 'cross-site' || site === 'same-site')) {
      return refusal(403, 'foreign-origin', 'A page of another site may not use this laboratory.');
    }
    if (isApi && pathname === NETWORK_ROUTES.acceptPairing.path && request.method === 'POST') {
      return accept(request, desk);
    }
    if (isApi) {
      const token = tokenOf(request);
      if (token === null || desk.deviceOf(token) === null) {
        return refusal(
          401,
          'not-paired',
          'This telephone is not paired, or no longer: scan the code that the computer shows.',
        );
      }
      if (!patterns.some(({ method, path }) => method === request.method && path.test(pathname))) {
        return refusal(403, 'not-for-devices', 'A paired telephone may not do this; do it on the computer.');
      }
    } else if (request.method !== 'GET' && request.method !== 'HEAD') {
      return refusal(403, 'not-for-devices', 'A paired telephone may not do this; do it on the computer.');
    }
    return laboratory(letIn(request, `http://${inner()}${pathname}${search}`));
  };

/** The same request, as the laboratory's own page would make it; the cookie stays outside. */
function letIn(request: Request, url: string): Request {
  const headers = new Headers(request.headers);
  for (const name of ['cookie', 'origin', 'referer', 'sec-fetch-site', 'host']) headers.delete(name);
  headers.set('host', new URL(url).host);
  const withBody = request.method !== 'GET' && request.method !== 'HEAD';
  return new Request(url, {
    method: request.method,
    headers,
    signal: request.signal,
    ...(withBody ? { body: request.body, duplex: 'half' } : {}),
  } as RequestInit);
}

async function accept(request: Request, desk: PairingDesk): Promise<Response> {
  const type = request.headers.get('content-type') ?? '';
  const text = type.startsWith('application/json') ? await request.text() : '';
  let given: Partial<PairingWish> = {};
  try {
    given = text.length <= 1000 ? (JSON.parse(text) as Partial<PairingWish>) : {};
  } catch {
    // Answered below like any other body without a code.
  }
  if (typeof given?.code !== 'string' || typeof given.name !== 'string') {
    return refusal(400, 'not-of-the-shape', 'code and name are needed.');
  }
  const paired = desk.accept(given.code, given.name);
  if (!paired.ok) return refusal(422, paired.refusal.why, paired.refusal.message);
  const { token, device } = paired.value;
  const seconds = Math.floor((device.until - device.since) / 1000);
  return new Response(JSON.stringify({ device: device.id, until: new Date(device.until).toISOString() }), {
    headers: {
      'content-type': 'application/json; charset=utf-8',
      'cache-control': 'no-store',
      'set-cookie': `${COOKIE}=${token}; Path=/; HttpOnly; SameSite=Strict; Max-Age=${seconds}`,
    },
  });
}
