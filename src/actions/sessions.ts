/** Who is signed in, by a token that the database knows only by its hash. */
import type { Account, Instant, PersonId } from '../study/index.ts';
import type { Desk, Tools } from './ports.ts';

/** Hashing of passwords and making of secrets, by kept libraries. */
export interface Secrets {
  /** A PHC string with its own parameters and salt. */
  hash(password: string): Promise<string>;
  verify(secret: string, password: string): Promise<boolean>;
  /** Unguessable text, at least 128 bits, that can be typed. */
  code(): string;
  sha256(text: string): string;
}

/** What the deeds of accounts need. */
export type GroupBooks = Pick<Tools, 'records' | 'clock' | 'names'> & { readonly secrets: Secrets };

/** Somebody let in, and the token of their session. */
export interface LetIn {
  readonly account: Account;
  readonly token: string;
}

const DAY_MS = 24 * 3600 * 1000;
const SESSION_DAYS = 14;

export const daysLater = (at: Instant, days: number): Instant =>
  new Date(Date.parse(at) + days * DAY_MS).toISOString() as Instant;

export async function beginSession(
  { clock, secrets }: Pick<GroupBooks, 'clock' | 'secrets'>,
  desk: Desk,
  person: PersonId,
): Promise<string> {
  const token = secrets.code();
  const begunAt = clock.now();
  const endsAt = daysLater(begunAt, SESSION_DAYS);
  await desk.sessions.add({ tokenSha256: secrets.sha256(token), person, begunAt, endsAt, endedAt: null });
  return token;
}

/** Who a token speaks for; null when it has run out, was ended, or the account was closed. */
export async function accountOf(
  { records, clock, secrets }: GroupBooks,
  token: string,
): Promise<Account | null> {
  const tokenSha256 = secrets.sha256(token);
  const now = clock.now();
  return records.look(async (look) => {
    const session = await look.sessions.get(tokenSha256);
    if (!session || session.endedAt !== null || session.endsAt <= now) return null;
    const account = await look.accounts.of(session.person);
    return account && account.closedAt === null ? account : null;
  });
}

export const signOut = ({ records, clock, secrets }: GroupBooks, token: string): Promise<void> =>
  records.change((desk) => desk.sessions.end(secrets.sha256(token), clock.now()));
