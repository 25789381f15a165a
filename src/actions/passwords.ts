/** Passwords: what one must be, changing one's own, and a new one for somebody who forgot theirs. */
import type { Account } from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import {
  addCode,
  type CodeMade,
  isPasswordCodeOf,
  noSuchCode,
  openInvitation,
  takeBackOpen,
} from './invitations.ts';
import { asId, known } from './known.ts';
import type { Desk } from './ports.ts';
import { beginSession, type GroupBooks, type LetIn } from './sessions.ts';

/** Shortest password. Source: NIST SP 800-63B rev. 4, §3.1.1.2, gives 15 for a password alone; we hold to it. */
const SHORTEST = 15;
export const LONGEST_PASSWORD = 200;

/** Why a password cannot be taken; null: it can. */
export function tooWeak(password: string, login: string): Outcome<never> | null {
  if (password.length > LONGEST_PASSWORD) {
    return refused({ why: 'weak-password', message: `password: at most ${LONGEST_PASSWORD} characters.` });
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

/** Sets it, ends the other sessions, takes back codes for it, and enters the act: never the password. */
async function setPassword(
  { clock }: Pick<GroupBooks, 'clock'>,
  desk: Desk,
  account: Account,
  how:
    | { readonly deed: 'change-password'; readonly keep: string }
    | { readonly deed: 'new-password'; readonly codeBy: string | null },
): Promise<void> {
  const at = clock.now();
  await desk.accounts.change(account);
  await desk.sessions.endAllOf(account.person, at, how.deed === 'change-password' ? how.keep : undefined);
  await takeBackOpen(desk, isPasswordCodeOf(account.person), account.person, at);
  await desk.journal.add({
    at,
    by: account.person,
    deed: how.deed,
    subject: account.person,
    facts: how.deed === 'new-password' ? { codeBy: how.codeBy } : {},
  });
}

/** Whoever has an account changes their own password. Every other session of it ends; that of `token` goes on. */
export async function changePassword(
  books: GroupBooks,
  wish: { readonly person: string; readonly token: string; readonly old: string; readonly password: string },
): Promise<Outcome<Account>> {
  const { records, secrets } = books;
  const person = asId<'person'>(wish.person);
  const found = await known(
    records.look((look) => look.accounts.of(person)),
    'account',
    person,
  );
  if (!found.ok) return found;
  const { secret: before, login } = found.value;
  if (!(await secrets.verify(before, wish.old.slice(0, LONGEST_PASSWORD)))) {
    return refused({
      why: 'wrong-password',
      message: 'The old password is not right. After several tries there is a pause of some minutes.',
    });
  }
  const weak = tooWeak(wish.password, login);
  if (weak) return weak;
  const secret = await secrets.hash(wish.password);
  return records.change(async (desk) => {
    const now = await desk.accounts.of(person);
    if (!now || now.secret !== before || now.closedAt !== null) {
      return refused({
        why: 'replaced',
        message: 'The password was changed meanwhile; sign in with the newer one.',
      });
    }
    const changed = { ...now, secret };
    await setPassword(books, desk, changed, { deed: 'change-password', keep: secrets.sha256(wish.token) });
    return done(changed);
  });
}

/**
 * A code with which somebody who forgot their password sets a new one. An earlier one of theirs opens nothing any more.
 * `by` null: made by whoever has the database, for an owner whom no other can let in.
 */
export const codeForPassword = (
  books: GroupBooks,
  wish: { readonly person: string; readonly by: string | null },
): Promise<Outcome<CodeMade>> =>
  books.records.change(async (desk) => {
    const person = asId<'person'>(wish.person);
    const by = wish.by === null ? null : asId<'person'>(wish.by);
    const found = await known(desk.accounts.of(person), 'account', person);
    if (!found.ok) return found;
    if (person === by) {
      return refused({
        why: 'own-password',
        message: 'Your own password is changed with the old one, under your name at the top of the page.',
      });
    }
    if (found.value.closedAt !== null) {
      return refused({ why: 'account-closed', message: 'This account is closed; open it again first.' });
    }
    await takeBackOpen(desk, isPasswordCodeOf(person), by ?? person, books.clock.now());
    const { role } = found.value;
    return done(await addCode(books, desk, { purpose: 'password', role, note: '', person, by }));
  });

/** As `codeForPassword`, for a login and by whoever has the database. */
export async function codeForLogin(books: GroupBooks, login: string): Promise<Outcome<CodeMade>> {
  const found = await known(
    books.records.look((look) => look.accounts.byLogin(login.trim().toLowerCase())),
    'account',
    login,
  );
  return found.ok ? codeForPassword(books, { person: found.value.person, by: null }) : found;
}

/** The code is used up, every session of the account ends, and whoever held the code is signed in anew. */
export async function newPassword(
  books: GroupBooks,
  wish: { readonly code: string; readonly password: string },
): Promise<Outcome<LetIn>> {
  const { records, clock, secrets } = books;
  const invitation = await openInvitation(books, wish.code, 'password');
  const person = invitation?.person ?? null;
  const account = person && (await records.look((look) => look.accounts.of(person)));
  if (!invitation || !account || account.closedAt !== null) return noSuchCode();
  const weak = tooWeak(wish.password, account.login);
  if (weak) return weak;
  const secret = await secrets.hash(wish.password);
  return records.change(async (desk) => {
    const now = await desk.accounts.of(account.person);
    if (!now || now.closedAt !== null) return noSuchCode();
    if (!(await desk.invitations.use(invitation.codeSha256, now.person, clock.now()))) return noSuchCode();
    const changed = { ...now, secret };
    await setPassword(books, desk, changed, { deed: 'new-password', codeBy: invitation.by });
    return done({ account: changed, token: await beginSession(books, desk, now.person) });
  });
}
