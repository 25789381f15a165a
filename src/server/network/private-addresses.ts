import { networkInterfaces } from 'node:os';

export interface OwnAddress {
  readonly name: string;
  readonly address: string;
}

/**
 * Addresses of this machine within private networks (RFC 1918). A public address is never offered: bench pages belong to
 * the room, not to the world.
 */
export const isPrivate = (address: string): boolean => {
  const parts = address.split('.').map(Number);
  if (parts.length !== 4 || parts.some((part) => !Number.isInteger(part) || part < 0 || part > 255))
    return false;
  const [a, b] = parts as [number, number, number, number];
  return a === 10 || (a === 172 && b >= 16 && b <= 31) || (a === 192 && b === 168);
};

export const privateAddresses = (): readonly OwnAddress[] =>
  Object.entries(networkInterfaces()).flatMap(([name, cards]) =>
    (cards ?? [])
      .filter((card) => card.family === 'IPv4' && !card.internal && isPrivate(card.address))
      .map(({ address }) => ({ name, address })),
  );
