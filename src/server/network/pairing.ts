/**
 * Codes and devices. Kept in memory alone: whoever stops the program, or closes the network, has revoked them all. Tokens
 * are kept as hashes and compared in constant time.
 */
import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import { done, type Outcome, refused } from '../../units/index.ts';

export const CODE_LASTS_MS = 5 * 60_000;
export const DEVICE_LASTS_MS = 12 * 3_600_000;
/** Wrong tries that end a code: eight signs of thirty-two leave a guesser nothing. */
export const MOST_TRIES = 10;
const MOST_DEVICES = 20;

/** Signs that no hand mixes up (Crockford's base 32). */
const SIGNS = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';

export interface Offer {
  readonly code: string;
  readonly until: number;
}
export interface Device {
  readonly id: string;
  readonly name: string;
  readonly since: number;
  readonly until: number;
  readonly seen: number;
}

interface Kept extends Device {
  readonly tokenHash: Buffer;
}

export interface PairingDesk {
  offer(): Offer;
  readonly offered: Offer | null;
  readonly devices: readonly Device[];
  /** Pairs one device; the code is spent. */
  accept(code: string, name: string): Outcome<{ readonly token: string; readonly device: Device }>;
  /** The device of a token, when it still may come in. */
  deviceOf(token: string): Device | null;
  revoke(device: string): boolean;
  forgetAll(): void;
}

const hashOf = (text: string): Buffer => createHash('sha256').update(text).digest();
const plain = (code: string): string =>
  code.toUpperCase().replaceAll(/[\s-]/g, '').replaceAll('O', '0').replaceAll(/[IL]/g, '1');

export function pairingDesk(now: () => number): PairingDesk {
  let offer: (Offer & { tries: number }) | null = null;
  let devices: Kept[] = [];
  const standing = (): Kept[] => {
    devices = devices.filter((device) => device.until > now());
    return devices;
  };
  const current = () => (offer !== null && offer.until > now() ? offer : null);
  return {
    offer() {
      const signs = [...randomBytes(8)].map((byte) => SIGNS[byte % 32]!).join('');
      offer = { code: `${signs.slice(0, 4)}-${signs.slice(4)}`, until: now() + CODE_LASTS_MS, tries: 0 };
      return offer;
    },
    get offered() {
      const open = current();
      return open && { code: open.code, until: open.until };
    },
    get devices() {
      return standing().map(({ tokenHash: _, ...device }) => device);
    },
    accept(code, name) {
      const open = current();
      if (!open) {
        return refused({
          why: 'no-pairing',
          message:
            'No code is on offer now: ask for a new one on the computer and scan it within five minutes.',
        });
      }
      if (!timingSafeEqual(hashOf(plain(code)), hashOf(plain(open.code)))) {
        open.tries += 1;
        if (open.tries >= MOST_TRIES) offer = null;
        return refused({
          why: 'wrong-code',
          message:
            offer === null
              ? 'That was one wrong code too many: ask for a new one on the computer.'
              : 'That is not the code on the computer; look at it again.',
        });
      }
      if (standing().length >= MOST_DEVICES) {
        return refused({
          why: 'too-many-devices',
          message: `${MOST_DEVICES} devices are paired already; forget one on the computer first.`,
        });
      }
      offer = null;
      const token = randomBytes(32).toString('base64url');
      const device: Device = {
        id: randomBytes(9).toString('base64url'),
        name:
          name
            .replace(/\p{Cc}/gu, ' ')
            .trim()
            .slice(0, 60) || 'telephone',
        since: now(),
        seen: now(),
        until: now() + DEVICE_LASTS_MS,
      };
      devices = [...devices, { ...device, tokenHash: hashOf(token) }];
      return done({ token, device });
    },
    deviceOf(token) {
      const hash = hashOf(token);
      const found = standing().find((device) => timingSafeEqual(device.tokenHash, hash));
      if (!found) return null;
      const seen = { ...found, seen: now() };
      devices = devices.map((device) => (device.id === found.id ? seen : device));
      return seen;
    },
    revoke(id) {
      const before = devices.length;
      devices = devices.filter((device) => device.id !== id);
      return devices.length < before;
    },
    forgetAll() {
      offer = null;
      devices = [];
    },
  };
}
