/** What a failing machine means for whoever works: what happened, where, and what to do. */

export type TroubleKind =
  | 'disk-full'
  | 'not-writable'
  | 'too-many-open'
  | 'no-database'
  | 'no-bucket'
  | 'original-missing'
  | 'original-changed'
  | 'machine-failed';

export interface Trouble {
  readonly why: TroubleKind;
  readonly message: string;
}

interface Failing {
  readonly code?: unknown;
  readonly path?: unknown;
  readonly message?: unknown;
  readonly cause?: unknown;
  readonly errors?: unknown;
}

/** The failure and all that it came from. */
function* causes(failure: unknown): Generator<Failing> {
  if (typeof failure !== 'object' || failure === null) return;
  const one = failure as Failing;
  yield one;
  if (Array.isArray(one.errors)) for (const inner of one.errors) yield* causes(inner);
  yield* causes(one.cause);
}

/** Codes of the system (POSIX errno) and of PostgreSQL (its manual, appendix A, “Error Codes”). */
const FULL = new Set(['ENOSPC', 'EDQUOT', 'EFBIG', '53100']);
const UNWRITABLE = new Set(['EROFS', 'EACCES', 'EPERM', '25006']);
const MANY = new Set(['EMFILE', 'ENFILE', '53300']);
const AWAY = new Set([
  'ECONNREFUSED',
  'ECONNRESET',
  'EPIPE',
  'ETIMEDOUT',
  'EHOSTUNREACH',
  'ENOTFOUND',
  'EAI_AGAIN',
]);
const AWAY_WORDS =
  /^(connection terminated|timeout exceeded when trying to connect|query read timeout|client has encountered a connection error)/i;
/** A store of originals that is not a folder says so with this code. */
export const NO_BUCKET = 'NO_BUCKET';

/** An original that is not what was brought in; nobody is shown something else in its place. */
export class UnsoundOriginal extends Error {
  readonly why: 'original-missing' | 'original-changed';
  constructor(sha256: string, state: 'missing' | 'changed') {
    super(`the original ${sha256} is ${state}`);
    this.why = `original-${state}`;
  }
}
const UNSOUND = {
  'original-missing': 'is missing where originals are kept',
  'original-changed':
    'was changed where originals are kept: it no longer has the hash that it was brought in under',
} as const;

const KEPT = 'What was acknowledged before is kept';

/**
 * Words a failure for people; what it does not know stays a failure of the machine, without its inside. `places`: whether
 * the reader may know folders of this machine.
 */
export function troubleOf(failure: unknown, { places = true } = {}): Trouble {
  for (const one of causes(failure)) {
    const { code, path, message } = one;
    if (one instanceof UnsoundOriginal) {
      return {
        why: one.why,
        message: `The original of this photograph ${UNSOUND[one.why]}. Its particles, marks and counts stay as they are; nothing else is shown in its place. Put the file back from a backup; “retentate check” names every such file.`,
      };
    }
    const where = places && typeof path === 'string' ? ` (${path})` : '';
    const said = typeof message === 'string' ? message : '';
    const known = typeof code === 'string' ? code : '';
    if (FULL.has(known) || /no space left on device|disk full/i.test(said)) {
      return {
        why: 'disk-full',
        message: `The disk of the laboratory is full${where}, so this was not kept. ${KEPT}; make room, then do it again.`,
      };
    }
    if (UNWRITABLE.has(known)) {
      return {
        why: 'not-writable',
        message: `The laboratory cannot be written${where}, so this was not kept. ${KEPT}; give this account the right to write there, then do it again.`,
      };
    }
    if (MANY.has(known)) {
      return {
        why: 'too-many-open',
        message: `Too much is going on at once, so this was not kept. ${KEPT}; wait a moment, then do it again.`,
      };
    }
    if (known === NO_BUCKET) {
      return {
        why: 'no-bucket',
        message: `${said}, so this was not done. ${KEPT}; try again in a moment, and if it lasts, tell whoever looks after the store of photographs.`,
      };
    }
    // 08: the connection; 57P01 to 57P03: the server is stopping, was killed or is starting.
    if (AWAY.has(known) || /^(08|57P0)/.test(known) || AWAY_WORDS.test(said)) {
      return {
        why: 'no-database',
        message: `The database does not answer. ${KEPT}; look in a moment whether this last is there before you do it again, and if it lasts, tell whoever looks after the server.`,
      };
    }
  }
  return {
    why: 'machine-failed',
    message: `The machine failed. ${KEPT}; try again, and if it lasts, look at what the program has written where it was started.`,
  };
}
