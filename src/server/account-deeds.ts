/** Signing in, invitations and accounts of a group; on a laboratory of one person they say that there are none. */
import type { Context } from 'hono';
import { deleteCookie, getCookie, setCookie } from 'hono/cookie';
import { accountOf, changeAccount, invite, join, type Secrets, signIn, signOut } from '../actions/index.ts';
import type {
  ACCOUNT_ROUTES,
  AccountChange,
  AccountJson,
  InviteWish,
  JoinWish,
  MeAnswer,
  SignInWish,
} from '../api/index.ts';
import type { Account, Id } from '../study/index.ts';
import { type Outcome, refused } from '../units/index.ts';
import { answered, type Deed, part, valid } from './answering.ts';
import { askingAddress } from './asking-address.ts';
import type { PhotoQueue } from './photo-queue.ts';
import { photoAtHome } from './photo-views.ts';
import type { Served } from './served.ts';
import { tries } from './tries.ts';

export const COOKIE = 'retentate_session';
const COOKIE_S = 14 * 24 * 3600;
/** Ten tries in ten minutes for one login; a hundred from one address, behind which a whole class may sit. Common practice, no source. */
const guessesOfLogin = tries(10, 600_000);
const guessesFrom = tries(100, 600_000);

const none = () =>
  refused({
    why: 'no-accounts',
    message: 'This laboratory is one person’s and has no accounts; a group’s is served by “retentate serve”.',
  });
const pause = () =>
  refused({ why: 'too-many-tries', message: 'Too many tries; wait ten minutes, then try again.' });

/** The account that a request's cookie speaks for. */
export async function whoAsks(served: Served, c: Context): Promise<Account | null> {
  const token = getCookie(c, COOKIE);
  return served.group && token ? accountOf({ ...served, secrets: served.group.secrets }, token) : null;
}

export function accountDeeds(
  served: Served,
  queue: PhotoQueue,
): Readonly<Record<keyof typeof ACCOUNT_ROUTES, Deed>> {
  const { records } = served;
  const secrets = served.group?.secrets ?? null;
  const books = (kept: Secrets) => ({ ...served, secrets: kept });
  const json = async (account: Account): Promise<AccountJson> => ({
    person: account.person,
    name: (await records.look((look) => look.people.get(account.person)))?.name ?? account.login,
    login: account.login,
    role: account.role,
    closed: account.closedAt !== null,
  });
  /** Lets somebody in: the cookie is set, and the answer says who they are. */
  const letIn = async (
    c: Context,
    let_: Outcome<{ readonly account: Account; readonly token: string }>,
  ): Promise<Response> => {
    if (!let_.ok) return answered(c, let_);
    const { account, token } = let_.value;
    setCookie(c, COOKIE, token, {
      httpOnly: true,
      sameSite: 'Strict',
      path: '/',
      maxAge: COOKIE_S,
      secure: served.group?.site?.startsWith('https:') ?? false,
    });
    const me: MeAnswer = { accounts: true, account: await json(account) };
    return c.json(me);
  };
  const guess = async (
    c: Context,
    login: string,
    work: (kept: Secrets) => Promise<Outcome<{ readonly account: Account; readonly token: string }>>,
  ): Promise<Response> => {
    if (!secrets) return answered(c, none());
    const now = Date.parse(served.clock.now());
    const from = askingAddress(c, served.group?.site !== null);
    const who = login.trim().toLowerCase();
    // Both are counted, whichever is too many.
    const allowed = [guessesOfLogin.allow(who, now), guessesFrom.allow(from, now)];
    if (allowed.includes(false)) return answered(c, pause());
    const outcome = await work(secrets);
    if (outcome.ok) {
      guessesOfLogin.forget(who);
      // Only this one: or whoever has an account could begin anew as often as they like.
      guessesFrom.takeBack(from);
    }
    return letIn(c, outcome);
  };
  return {
    me: async (c) => {
      const account = await whoAsks(served, c);
      return c.json({
        accounts: secrets !== null,
        account: account && (await json(account)),
      } satisfies MeAnswer);
    },
    signIn: (c) => {
      const wish = valid<SignInWish>(c, 'json');
      return guess(c, wish.login, (kept) => signIn(books(kept), wish));
    },
    join: (c) => {
      const wish = valid<JoinWish>(c, 'json');
      return guess(c, wish.login, (kept) => join(books(kept), wish));
    },
    signOut: async (c) => {
      const token = getCookie(c, COOKIE);
      if (secrets && token) await signOut(books(secrets), token);
      deleteCookie(c, COOKIE, { path: '/' });
      return c.json({ done: true });
    },
    accounts: async (c) => {
      const now = served.clock.now();
      const [accounts, invitations] = await records.look(async (look) => [
        await look.accounts.list(),
        await look.invitations.list(),
      ]);
      return c.json({
        accounts: await Promise.all(accounts.map(json)),
        invitations: invitations.map(({ role, note, endsAt, usedBy }) => ({
          role,
          note,
          ends_at: endsAt,
          used: usedBy !== null,
          run_out: usedBy === null && endsAt <= now,
        })),
      });
    },
    changeAccount: async (c) => {
      if (!secrets) return answered(c, none());
      const { role } = valid<AccountChange>(c, 'json');
      const changed = await changeAccount(served, { person: part(c, 'person'), role });
      return changed.ok ? c.json(await json(changed.value)) : answered(c, changed);
    },
    invite: async (c) => {
      if (!secrets) return answered(c, none());
      const made = await invite(books(secrets), { ...valid<InviteWish>(c, 'json'), by: served.person });
      return answered(c, made, ({ code, invitation }) => ({
        code,
        role: invitation.role,
        ends_at: invitation.endsAt,
      }));
    },
    searches: async (c) => {
      const all = await records.look((look) => look.searches.list());
      return c.json({
        searches: all.map(({ refusal, ...rest }) => ({ ...rest, reason: refusal?.message ?? null })),
      });
    },
    searchAgain: async (c) => {
      const home = await records.look((look) => photoAtHome(look, part(c, 'photo') as Id<'photo'>));
      if (!home.ok) return answered(c, home);
      queue.add(home.value.photo);
      return c.json({ done: true });
    },
  };
}
