/** Accounts, codes and acts as an owner sees them. */
import type { Look, Tools } from '../actions/index.ts';
import { ACCOUNT_DEEDS, type AccountActJson, type AccountJson, type AccountsAnswer } from '../api/index.ts';
import { type Account, type PersonId, type Role, stateOfInvitation } from '../study/index.ts';

/** So many acts are told; all stay in the journal. */
const MOST_ACTS = 50;

const accountJson = (account: Account, name: string | null): AccountJson => ({
  person: account.person,
  name: name ?? account.login,
  login: account.login,
  role: account.role,
  closed: account.closedAt !== null,
});

export const accountView = ({ records }: Pick<Tools, 'records'>, account: Account): Promise<AccountJson> =>
  records.look(async (look) => accountJson(account, (await look.people.get(account.person))?.name ?? null));

export const accountsView = ({ records, clock }: Pick<Tools, 'records' | 'clock'>): Promise<AccountsAnswer> =>
  records.look(async (look) => {
    const now = clock.now();
    const people = await look.people.list();
    const accounts = await look.accounts.list();
    const names = new Map(people.map(({ id, name }) => [id, name]));
    const nameOf = (person: PersonId | null) => (person && names.get(person)) ?? null;
    const having = new Set(accounts.map(({ person }) => person));
    const invitations = await look.invitations.list();
    return {
      accounts: accounts.map((account) => accountJson(account, nameOf(account.person))),
      invitations: invitations.toReversed().map((one) => ({
        id: one.id,
        purpose: one.purpose,
        role: one.role,
        note: one.note,
        person: nameOf(one.person),
        made_at: one.madeAt,
        by: nameOf(one.by),
        ends_at: one.endsAt,
        state: stateOfInvitation(one, now),
        over_at: one.usedAt ?? one.takenBackAt,
        over_by: nameOf(one.usedBy ?? one.takenBackBy),
      })),
      without_account: people
        .filter(({ id }) => !having.has(id))
        .map(({ id, name }) => ({ person: id, name })),
      acts: await actsOf(look, nameOf),
    };
  });

/** As `actions` enters them in the journal. */
interface Facts {
  readonly after?: { readonly role: Role; readonly closed: boolean };
  readonly codeBy?: PersonId | null;
}

async function actsOf(
  look: Look,
  nameOf: (person: PersonId | null) => string | null,
): Promise<AccountActJson[]> {
  const lines = await look.journal.ofDeeds(ACCOUNT_DEEDS, MOST_ACTS);
  return lines.map(({ at, by, deed, subject, facts }) => {
    const { after, codeBy = null } = facts as Facts;
    return {
      at,
      by: nameOf(by),
      deed: deed as AccountActJson['deed'],
      whose: nameOf(subject as PersonId) ?? subject,
      role: after?.role ?? null,
      closed: after?.closed ?? false,
      code_by: nameOf(codeBy),
    };
  });
}
