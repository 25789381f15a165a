/** Time, chance and fresh names as this machine gives them. */
import { randomBytes } from 'node:crypto';
import type { Chance, Clock, Names } from '../actions/index.ts';
import type { Id, Instant } from '../study/index.ts';

export const systemClock: Clock = { now: () => new Date().toISOString() as Instant };

export const systemChance: Chance = { next: () => randomBytes(6).readUIntBE(0, 6) / 2 ** 48 };

/** UUID version 7 (RFC 9562 §5.7): 48 bits of milliseconds, then chance; they sort by age. */
export function uuid7(milliseconds: number, chance: Uint8Array): string {
  const bytes = new Uint8Array(16);
  bytes.set(chance.subarray(0, 10), 6);
  for (let at = 5, rest = milliseconds; at >= 0; at -= 1, rest = Math.floor(rest / 256))
    bytes[at] = rest % 256;
  bytes[6] = (bytes[6]! & 0x0f) | 0x70;
  bytes[8] = (bytes[8]! & 0x3f) | 0x80;
  const hex = Buffer.from(bytes).toString('hex');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}

export const systemNames: Names = {
  next: <K extends string>() => uuid7(Date.now(), randomBytes(10)) as Id<K>,
};
