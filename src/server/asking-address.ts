import type { Context } from 'hono';
import { isPrivate } from './network/private-addresses.ts';

const isNear = (address: string): boolean => {
  const plain = address.replace(/^::ffff:/, '');
  return plain === '::1' || plain.startsWith('127.') || isPrivate(plain);
};

/**
 * Who a request comes from. Behind a proxy every connection is the proxy's, so there it is the last address in
 * X-Forwarded-For, which the proxy wrote itself; what stands before it, and what comes from elsewhere, is anybody's word.
 */
export function askingAddress(c: Context, behindProxy: boolean): string {
  const env = c.env as { incoming?: { socket?: { remoteAddress?: string } } } | undefined;
  const connected = env?.incoming?.socket?.remoteAddress ?? '';
  if (!behindProxy || !isNear(connected)) return connected;
  return c.req.header('x-forwarded-for')?.split(',').at(-1)?.trim() || connected;
}
