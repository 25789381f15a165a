import type { Context } from 'hono';
import type { RouteName } from '../api/index.ts';
import { may } from '../study/index.ts';
import { whoAsks } from './account-deeds.ts';
import { inNameOf, refusalAnswer } from './answering.ts';
import { rightFor } from './rights.ts';
import type { Served } from './served.ts';

/**
 * In whose name a request is done, or why it is not. On a laboratory of one person: whoever is said to work. In a group:
 * the account signed in, when its role may use the route.
 */
export async function doorkeeper(lent: Served, name: RouteName, c: Context): Promise<Served | Response> {
  if (!lent.group) return inNameOf(lent, c);
  const right = rightFor(name);
  if (right === 'nobody') return lent;
  const account = await whoAsks(lent, c);
  if (!account) return refusalAnswer(c, 'not-signed-in', 'Sign in first; the session may have ended.', 401);
  if (!may(account.role, right)) {
    return refusalAnswer(
      c,
      'not-allowed',
      `The role “${account.role}” does not reach that far; ask an owner of the laboratory.`,
      403,
    );
  }
  return { ...lent, person: account.person, scoresAlone: !may(account.role, 'read') };
}
