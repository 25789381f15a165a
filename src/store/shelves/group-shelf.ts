import { and, count, eq, gt, isNull, ne } from 'drizzle-orm';
import type { Desk } from '../../actions/index.ts';
import * as t from '../schema-groups.ts';
import { type Database, first } from './database.ts';

/** Accounts, invitations, sessions, and where searches stand. */
export const groupShelf = (
  db: Database,
): Pick<Desk, 'accounts' | 'invitations' | 'sessions' | 'searches'> => ({
  accounts: {
    of: async (person) => first(await db.select().from(t.account).where(eq(t.account.person, person))),
    byLogin: async (login) => first(await db.select().from(t.account).where(eq(t.account.login, login))),
    list: async () => db.select().from(t.account).orderBy(t.account.madeAt),
    add: async (account) => void (await db.insert(t.account).values(account)),
    change: async ({ person, role, secret, closedAt }) =>
      void (await db.update(t.account).set({ role, secret, closedAt }).where(eq(t.account.person, person))),
  },
  invitations: {
    get: async (code) => first(await db.select().from(t.invitation).where(eq(t.invitation.codeSha256, code))),
    list: async () => db.select().from(t.invitation).orderBy(t.invitation.madeAt),
    add: async (invitation) => void (await db.insert(t.invitation).values(invitation)),
    use: async (code, usedBy, usedAt) =>
      (
        await db
          .update(t.invitation)
          .set({ usedBy, usedAt })
          .where(
            and(
              eq(t.invitation.codeSha256, code),
              isNull(t.invitation.usedBy),
              isNull(t.invitation.takenBackAt),
              gt(t.invitation.endsAt, usedAt),
            ),
          )
          .returning({ code: t.invitation.codeSha256 })
      ).length === 1,
    takeBack: async (id, takenBackBy, takenBackAt) =>
      void (await db
        .update(t.invitation)
        .set({ takenBackBy, takenBackAt })
        .where(and(eq(t.invitation.id, id), isNull(t.invitation.usedBy), isNull(t.invitation.takenBackAt)))),
  },
  sessions: {
    get: async (token) => first(await db.select().from(t.session).where(eq(t.session.tokenSha256, token))),
    add: async (session) => void (await db.insert(t.session).values(session)),
    end: async (token, endedAt) =>
      void (await db
        .update(t.session)
        .set({ endedAt })
        .where(and(eq(t.session.tokenSha256, token), isNull(t.session.endedAt)))),
    endAllOf: async (person, endedAt, butOne) =>
      void (await db
        .update(t.session)
        .set({ endedAt })
        .where(
          and(
            eq(t.session.person, person),
            isNull(t.session.endedAt),
            butOne === undefined ? undefined : ne(t.session.tokenSha256, butOne),
          ),
        )),
  },
  searches: {
    of: async (photo) => first(await db.select().from(t.photoSearch).where(eq(t.photoSearch.photo, photo))),
    list: async () => db.select().from(t.photoSearch),
    waiting: async (study) =>
      (
        await db
          .select({ n: count() })
          .from(t.photoSearch)
          .where(and(eq(t.photoSearch.study, study), eq(t.photoSearch.state, 'waiting')))
      )[0]!.n,
    put: async (state) =>
      void (await db
        .insert(t.photoSearch)
        .values(state)
        .onConflictDoUpdate({ target: t.photoSearch.photo, set: state })),
  },
});
