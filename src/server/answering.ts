/** In whose name a request is made, and how one is refused before it reaches a deed. */
import type { Context } from 'hono';
import type { Served } from './served.ts';

export { type Answering as Deed, answered, part, valid } from './answers.ts';

export const refusalAnswer = (
  c: Context,
  why: string,
  message: string,
  status: 400 | 401 | 403 | 404 | 409 | 413 | 422 | 500 | 503 | 507,
) => c.json({ refusal: { why, message } }, status);

const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;
export const WORKING_HEADER = 'x-working';

/** The same laboratory in the name of whoever works now: the person that the request names. Deeds refuse a stranger. */
export function inNameOf(served: Served, c: Context): Served {
  const named = c.req.header('x-working');
  return named !== undefined && UUID.test(named) ? { ...served, person: named } : served;
}
