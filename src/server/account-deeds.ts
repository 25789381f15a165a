/** Signing in, invitations and accounts of a group; on a laboratory of one person they say that there are none. */
import type { Context } from 'hono';
import { deleteCookie, getCookie, setCookie } from 'hono/cookie';
import {
  accountOf,
  type CodeMade,
  changeAccount,
  changePassword,
  codeForPassword,
  invite,
  join,
  type LetIn,
  newPassword,
  type Secrets,
  signIn,
  signOut,
  takeBackInvitation,
} from '../actions/index.ts';
import type {
  ACCOUNT_ROUTES,
  AccountChange,
  AccountJson,
  InviteWish,
  JoinWish,
  MeAnswer,
  NewPasswordWish,
  PasswordChange,
  SignInWish,
} from '../api/index.ts';
import type { Account, Id } from '../study/index.ts';
import { type Outcome, refused } from '../units/index.ts';
import { accountsView, accountView } from './account-views.ts';
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
  const json = (account: Account): Promise<AccountJson> => accountView(served, account);
  /** Lets somebody in: the cookie is set, and the answer says who they are. */
  const letIn = async (c: Context, let_: Outcome<LetIn>): Promise<Response> => {
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
  /** A try that may be a guess: at the password of `login`, or at a code, where nobody is named by it. */
  const guess = async <T>(
    c: Context,
    login: string | null,
    work: (kept: Secrets) => Promise<Outcome<T>>,
  ): Promise<Outcome<T>> => {
    if (!secrets) return none();
    const now = Date.parse(served.clock.now());
    const from = askingAddress(c, served.group?.site !== null);
    const who = login?.trim().toLowerCase() ?? null;
    // Both are counted, whichever is too many.
    const allowed = [who === null || guessesOfLogin.allow(who, now), guessesFrom.allow(from, now)];
    if (allowed.includes(false)) return pause();
    const outcome = await work(secrets);
    if (outcome.ok) {
      if (who !== null) guessesOfLogin.forget(who);
      // Only this one: or whoever has an account could begin anew as often as they like.
      guessesFrom.takeBack(from);
    }
    return outcome;
  };
  const codeShown = ({ code, invitation }: CodeMade) => ({
    code,
    role: invitation.role,
    ends_at: invitation.endsAt,
  });
  return {
    me: async (c) => {
      const account = await whoAsks(served, c);
      return c.json({
        accounts: secrets !== null,
        account: account && (await json(account)),
      } satisfies MeAnswer);
    },
    signIn: async (c) => {
      const wish = valid<SignInWish>(c, 'json');
      return letIn(c, await guess(c, wish.login, (kept) => signIn(books(kept), wish)));
    },
    join: async (c) => {
      const wish = valid<JoinWish>(c, 'json');
      return letIn(c, await guess(c, wish.login, (kept) => join(books(kept), wish)));
    },
    newPassword: async (c) => {
      const wish = valid<NewPasswordWish>(c, 'json');
      const let_ = await guess(c, null, (kept) => newPassword(books(kept), wish));
      // Whoever forgot their password has mostly tried a few.
      if (let_.ok) guessesOfLogin.forget(let_.value.account.login);
      return letIn(c, let_);
    },
    changePassword: async (c) => {
      const own = await whoAsks(served, c);
      const token = getCookie(c, COOKIE);
      if (!own || !token) return answered(c, none());
      const wish = { ...valid<PasswordChange>(c, 'json'), person: own.person, token };
      const changed = await guess(c, own.login, (kept) => changePassword(books(kept), wish));
      return changed.ok
        ? c.json({ accounts: true, account: await json(changed.value) } satisfies MeAnswer)
        : answered(c, changed);
    },
    signOut: async (c) => {
      const token = getCookie(c, COOKIE);
      if (secrets && token) await signOut(books(secrets), token);
      deleteCookie(c, COOKIE, { path: '/' });
      return c.json({ done: true });
    },
    accounts: async (c) => c.json(await accountsView(served)),
    changeAccount: async (c) => {
      if (!secrets) return answered(c, none());
      const { role } = valid<AccountChange>(c, 'json');
      const changed = await changeAccount(served, { person: part(c, 'person'), role, by: served.person });
      return changed.ok ? c.json(await json(changed.value)) : answered(c, changed);
    },
    invite: async (c) => {
      if (!secrets) return answered(c, none());
      const { role, note, person = null } = valid<InviteWish>(c, 'json');
      return answered(c, await invite(books(secrets), { role, note, person, by: served.person }), codeShown);
    },
    takeBackInvitation: async (c) => {
      const wish = { invitation: part(c, 'invitation'), by: served.person };
      return answered(c, secrets ? await takeBackInvitation(served, wish) : none(), () => ({ done: true }));
    },
    codeForPassword: async (c) => {
      if (!secrets) return answered(c, none());
      const wish = { person: part(c, 'person'), by: served.person };
      return answered(c, await codeForPassword(books(secrets), wish), codeShown);
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
