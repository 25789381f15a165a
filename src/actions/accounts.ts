import {
  type Account,
  type Instant,
  type Invitation,
  makeAccount,
  type Person,
  type PersonId,
  type Role,
  type Session,
} from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { addPerson } from './add-person.ts';
import { asId } from './known.ts';
import type { Tools } from './ports.ts';

/** Hashing of passwords and making of secrets, by kept libraries. */
export interface Secrets {
  /** A PHC string with its own parameters and salt. */
  hash(password: string): Promise<string>;
  verify(secret: string, password: string): Promise<boolean>;
  /** Unguessable text, at least 128 bits, that can be typed. */
  code(): string;
  sha256(text: string): string;
}

type Books = Pick<Tools, 'records' | 'clock' | 'names'> & { readonly secrets: Secrets };

/** Shortest password. Source: NIST SP 800-63B rev. 4, §3.1.1.2, gives 15 for a password alone; we hold to it. */
const SHORTEST = 15;
const LONGEST = 200;
const DAY_MS = 24 * 3600 * 1000;
/** An invitation left lying is a door left open. Common practice, no source. */
const INVITATION_DAYS = 7;
const SESSION_DAYS = 14;

const later = (at: Instant, days: number): Instant =>
  new Date(Date.parse(at) + days * DAY_MS).toISOString() as Instant;

/** A code that lets one person in with a role; shown once. `by` null: the first owner's, at the start of a server. */
export async function invite(
  { records, clock, secrets }: Books,
  wish: { readonly role: Role; readonly note: string; readonly by: string | null },
): Promise<Outcome<{ readonly code: string; readonly invitation: Invitation }>> {
  const code = secrets.code();
  const at = clock.now();
  const invitation: Invitation = {
    codeSha256: secrets.sha256(code),
    role: wish.role,
    note: wish.note.slice(0, 200),
    madeAt: at,
    by: wish.by === null ? null : asId(wish.by),
    endsAt: later(at, INVITATION_DAYS),
    usedBy: null,
    usedAt: null,
  };
  await records.change((desk) => desk.invitations.add(invitation));
  return done({ code, invitation });
}

const noSuchCode = () =>
  refused({
    why: 'no-such-code',
    message: 'This invitation is not known, was used or has run out; ask the owner for a new one.',
  });

/** The person invited chooses name, login and password. The code is used up by it. */
export async function join(
  books: Books,
  wish: { readonly code: string; readonly name: string; readonly login: string; readonly password: string },
): Promise<Outcome<{ readonly account: Account; readonly token: string }>> {
  const { records, clock, secrets } = books;
  const codeSha256 = secrets.sha256(wish.code.trim());
  const open = (invitation: Invitation | null): invitation is Invitation =>
    invitation !== null && invitation.usedBy === null && invitation.endsAt > clock.now();
  const invitation = await records.look((look) => look.invitations.get(codeSha256));
  if (!open(invitation)) return noSuchCode();
  const login = wish.login.trim().toLowerCase();
  if (!/^[a-z0-9][a-z0-9._@+-]{1,79}$/.test(login)) {
    return refused({
      why: 'not-a-login',
      message: 'login: 2 to 80 small letters, digits or . _ @ + -, beginning with a letter or digit.',
    });
  }
  const weak = tooWeak(wish.password, login);
  if (weak) return weak;
  if (await records.look((look) => look.accounts.byLogin(login))) {
    return refused({
      why: 'name-taken',
      message: `Somebody signs in as “${login}” already; choose another.`,
    });
  }
  const secret = await secrets.hash(wish.password);
  const person = await personCalled(books, wish.name);
  if (!person.ok) return person;
  const made = makeAccount({
    person: person.value.id,
    login,
    role: invitation.role,
    secret,
    madeAt: clock.now(),
    by: invitation.by,
    closedAt: null,
  });
  if (!made.ok) return made;
  const account = made.value;
  const added = await records.change(async (desk) => {
    if (!(await desk.invitations.use(codeSha256, account.person, clock.now()))) return noSuchCode();
    if ((await desk.accounts.byLogin(login)) || (await desk.accounts.of(account.person))) {
      return refused({
        why: 'name-taken',
        message: `“${wish.name.trim()}” or “${login}” has an account already; sign in, or choose another name.`,
      });
    }
    await desk.accounts.add(account);
    return done(account);
  });
  if (!added.ok) return added;
  return done({ account, token: await beginSession(books, account.person) });
}

/** Somebody who worked here before accounts came keeps their records: the name is theirs unless an account has it. */
async function personCalled(books: Books, name: string): Promise<Outcome<Person>> {
  const people = await books.records.look((look) => look.people.list());
  const known = people.find((person) => person.name.toLowerCase() === name.trim().toLowerCase());
  return known ? done(known) : addPerson(books, { name });
}

function tooWeak(password: string, login: string) {
  if (password.length > LONGEST) {
    return refused({ why: 'weak-password', message: `password: at most ${LONGEST} characters.` });
  }
  if ([...password].length < SHORTEST || password.toLowerCase().includes(login)) {
    return refused({
      why: 'weak-password',
      message: `password: at least ${SHORTEST} characters, without the login in it; a few words in a row are easy to keep in mind.`,
    });
  }
  if (new Set(password).size < 6) {
    return refused({ why: 'weak-password', message: 'password: too few different characters; use words.' });
  }
  return null;
}

/** A hash of nothing, so that an unknown login takes as long as a known one. */
let decoy: Promise<string> | null = null;

export async function signIn(
  books: Books,
  wish: { readonly login: string; readonly password: string },
): Promise<Outcome<{ readonly account: Account; readonly token: string }>> {
  const { records, secrets } = books;
  const login = wish.login.trim().toLowerCase();
  const account = await records.look((look) => look.accounts.byLogin(login));
  decoy ??= secrets.hash(secrets.code());
  const good = await secrets.verify(account?.secret ?? (await decoy), wish.password.slice(0, LONGEST));
  if (!account || !good || account.closedAt !== null) {
    return refused({
      why: 'not-let-in',
      message: 'Login or password is not right. After several tries there is a pause of some minutes.',
    });
  }
  return done({ account, token: await beginSession(books, account.person) });
}

async function beginSession({ records, clock, secrets }: Books, person: PersonId): Promise<string> {
  const token = secrets.code();
  const begunAt = clock.now();
  const session: Session = {
    tokenSha256: secrets.sha256(token),
    person,
    begunAt,
    endsAt: later(begunAt, SESSION_DAYS),
    endedAt: null,
  };
  await records.change((desk) => desk.sessions.add(session));
  return token;
}

/** Who a token speaks for; null when it has run out, was ended, or the account was closed. */
export async function accountOf({ records, clock, secrets }: Books, token: string): Promise<Account | null> {
  const tokenSha256 = secrets.sha256(token);
  const now = clock.now();
  return records.look(async (look) => {
    const session = await look.sessions.get(tokenSha256);
    if (!session || session.endedAt !== null || session.endsAt <= now) return null;
    const account = await look.accounts.of(session.person);
    return account && account.closedAt === null ? account : null;
  });
}

export const signOut = ({ records, clock, secrets }: Books, token: string): Promise<void> =>
  records.change((desk) => desk.sessions.end(secrets.sha256(token), clock.now()));

/** Another role, or none: closing ends every session of the person. The last owner stays one. */
export const changeAccount = (
  { records, clock }: Pick<Books, 'records' | 'clock'>,
  wish: { readonly person: string; readonly role: Role | null },
): Promise<Outcome<Account>> =>
  records.change(async (desk) => {
    const person = asId<'person'>(wish.person);
    const account = await desk.accounts.of(person);
    if (!account) {
      return refused({
        why: 'no-such-account',
        message: `There is no account of ${wish.person} in this laboratory; read the list anew.`,
      });
    }
    const owners = (await desk.accounts.list()).filter(
      (one) => one.role === 'owner' && one.closedAt === null,
    );
    if (wish.role !== 'owner' && owners.length === 1 && owners[0]!.person === person) {
      return refused({
        why: 'last-owner',
        message: 'The last owner stays one; make somebody else owner first.',
      });
    }
    const changed: Account =
      wish.role === null
        ? { ...account, closedAt: clock.now() }
        : { ...account, role: wish.role, closedAt: null };
    await desk.accounts.change(changed);
    if (wish.role === null) await desk.sessions.endAllOf(person, clock.now());
    return done(changed);
  });
