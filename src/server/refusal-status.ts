import type { TroubleKind } from '../actions/index.ts';

/** HTTP status of a refusal: what is not there, what clashes with what is, what cannot be taken. */
export function statusOf(why: string): 401 | 404 | 409 | 413 | 422 | 429 {
  if (why === 'not-let-in') return 401;
  if (why === 'too-many-tries') return 429;
  if (why === 'no-such-particle' || CLASHES.has(why)) return 409;
  if (why.startsWith('no-such-')) return 404;
  return why === 'too-many-bytes' || why === 'too-large' ? 413 : 422;
}

/** The laboratory has moved on since the page was read, or there is nothing left to do. */
const CLASHES = new Set([
  'replaced',
  'nothing-to-undo',
  'on-another-filter',
  'name-taken',
  'nothing-to-mend',
  'in-use',
  'code-is-over',
]);

/** HTTP status of a failing machine: 507 where there is no room, 503 where waiting may help. */
export function statusOfTrouble(why: TroubleKind): 500 | 503 | 507 {
  if (why === 'disk-full') return 507;
  const here = why === 'machine-failed' || why === 'not-writable' || why.startsWith('original-');
  return here ? 500 : 503;
}
