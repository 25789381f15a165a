import {
  type Account,
  type Instant,
  type Invitation,
  makeAccount,
  type Person,
  type Role,
} from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { enterPerson, sameName } from './add-person.ts';
import { isPasswordCodeOf, noSuchCode, openInvitation, takeBackOpen } from './invitations.ts';
import { asId } from './known.ts';
import { LONGEST_PASSWORD, tooWeak } from './passwords.ts';
import type { Desk } from './ports.ts';
import { beginSession, type GroupBooks, type LetIn } from './sessions.ts';

/** The person invited chooses name, login and password. The code is used up by it. */
export async function join(
  books: GroupBooks,
  wish: { readonly code: string; readonly name: string; readonly login: string; readonly password: string },
): Promise<Outcome<LetIn>> {
  const { records, clock, secrets } = books;
  const invitation = await openInvitation(books, wish.code, 'join');
  if (!invitation) return noSuchCode();
  const login = wish.login.trim().toLowerCase();
  if (!/^[a-z0-9][a-z0-9._@+-]{1,79}$/.test(login)) {
    return refused({
      why: 'not-a-login',
      message: 'login: 2 to 80 small letters, digits or . _ @ + -, beginning with a letter or digit.',
    });
  }
  const weak = tooWeak(wish.password, login);
  if (weak) return weak;
  const secret = await secrets.hash(wish.password);
  // A refusal undoes all of it: neither is the code used up nor does the name stand.
  return records.change(async (desk) => {
    if (await desk.accounts.byLogin(login)) {
      return refused({
        why: 'name-taken',
        message: `Somebody signs in as “${login}” already; choose another.`,
      });
    }
    const person = await whoJoins(books, desk, invitation, wish.name);
    if (!person.ok) return person;
    const madeAt = clock.now();
    const { role, by } = invitation;
    const made = makeAccount({ person: person.value.id, login, role, secret, madeAt, by, closedAt: null });
    if (!made.ok) return made;
    const account = made.value;
    if (!(await desk.invitations.use(invitation.codeSha256, account.person, madeAt))) return noSuchCode();
    await desk.accounts.add(account);
    // Each start of a server without an owner told a code; there is an owner now.
    if (by === null) await takeBackOpen(desk, (one) => one.by === null, account.person, madeAt);
    return done({ account, token: await beginSession(books, desk, account.person) });
  });
}

/**
 * Whose account it becomes. Records carry names, so nobody takes a name that stands here unless the invitation says that it
 * is theirs. The first owner's invitation comes from whoever has the database, and may: nobody is there to say so.
 */
async function whoJoins(
  books: GroupBooks,
  desk: Desk,
  invitation: Invitation,
  name: string,
): Promise<Outcome<Person>> {
  const named = invitation.person && (await desk.people.get(invitation.person));
  const there = named || (await desk.people.list()).find((person) => sameName(person.name, name));
  if (!there) return enterPerson(books, desk, { name });
  if (named && name.trim() !== '' && !sameName(named.name, name)) {
    return refused({
      why: 'another-name',
      message: `name: this invitation is for “${named.name}”; leave the name empty, or ask for another invitation.`,
    });
  }
  if (await desk.accounts.of(there.id)) {
    return refused({
      why: 'name-taken',
      message: `“${there.name}” has an account already; sign in, or choose another name.`,
    });
  }
  if (!named && invitation.by !== null) {
    return refused({
      why: 'name-taken',
      message: `“${there.name}” stands in the records of this laboratory already. If that is you, ask an owner for an invitation in that name; else choose another, such as with an initial.`,
    });
  }
  return done(there);
}

/** A hash of nothing, so that an unknown login takes as long as a known one. */
let decoy: Promise<string> | null = null;

export async function signIn(
  books: GroupBooks,
  wish: { readonly login: string; readonly password: string },
): Promise<Outcome<LetIn>> {
  const { records, secrets } = books;
  const login = wish.login.trim().toLowerCase();
  const account = await records.look((look) => look.accounts.byLogin(login));
  decoy ??= secrets.hash(secrets.code());
  const good = await secrets.verify(
    account?.secret ?? (await decoy),
    wish.password.slice(0, LONGEST_PASSWORD),
  );
  const not = refused({
    why: 'not-let-in',
    message: 'Login or password is not right. After several tries there is a pause of some minutes.',
  });
  if (!account || !good) return not;
  return records.change(async (desk) => {
    // A password that was changed while it was being looked at begins no session that the change would have ended.
    const now = await desk.accounts.of(account.person);
    if (!now || now.secret !== account.secret || now.closedAt !== null) return not;
    return done({ account: now, token: await beginSession(books, desk, now.person) });
  });
}

/**
 * Another role, or none: closing ends every session of the person. The last owner stays one. Codes that somebody made as an
 * owner end with that, and codes for the password of a closed account.
 */
export const changeAccount = (
  { records, clock }: Pick<GroupBooks, 'records' | 'clock'>,
  wish: { readonly person: string; readonly role: Role | null; readonly by: string },
): Promise<Outcome<Account>> =>
  records.change(async (desk) => {
    const [person, by] = [asId<'person'>(wish.person), asId<'person'>(wish.by)];
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
    const at = clock.now();
    const changed: Account =
      wish.role === null ? { ...account, closedAt: at } : { ...account, role: wish.role, closedAt: null };
    await desk.accounts.change(changed);
    if (wish.role === null) {
      await desk.sessions.endAllOf(person, at);
      await takeBackOpen(desk, isPasswordCodeOf(person), by, at);
    }
    if (wish.role !== 'owner') await takeBackOpen(desk, (one) => one.by === person, by, at);
    await desk.journal.add({
      at,
      by,
      deed: 'change-account',
      subject: person,
      facts: { before: inShort(account), after: inShort(changed) },
    });
    return done(changed);
  });

const inShort = ({ role, closedAt }: { readonly role: Role; readonly closedAt: Instant | null }) => ({
  role,
  closed: closedAt !== null,
});
