/** One-time codes: made, taken back. The code is shown once; the database knows its hash. */
import {
  type Instant,
  type Invitation,
  type PersonId,
  type Role,
  stateOfInvitation,
} from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { asId, known } from './known.ts';
import type { Desk } from './ports.ts';
import { daysLater, type GroupBooks } from './sessions.ts';

/** A code left lying is a door left open. Common practice, no source. */
const CODE_DAYS = 7;

export interface CodeMade {
  readonly code: string;
  readonly invitation: Invitation;
}

/** Puts a new code among the invitations; whoever asks has seen that it may be made. */
export async function addCode(
  { clock, names, secrets }: Pick<GroupBooks, 'clock' | 'names' | 'secrets'>,
  desk: Desk,
  wish: Pick<Invitation, 'purpose' | 'role' | 'note' | 'person' | 'by'>,
): Promise<CodeMade> {
  const code = secrets.code();
  const madeAt = clock.now();
  const invitation: Invitation = {
    ...wish,
    id: names.next(),
    codeSha256: secrets.sha256(code),
    madeAt,
    endsAt: daysLater(madeAt, CODE_DAYS),
    usedBy: null,
    usedAt: null,
    takenBackBy: null,
    takenBackAt: null,
  };
  await desk.invitations.add(invitation);
  return { code, invitation };
}

/**
 * A code that lets one person in with a role. `person`: somebody whose records are here already and whose account it will
 * make; null: somebody new, who cannot take a name that stands here. `by` null: the first owner's, at the start of a server.
 */
export const invite = (
  books: GroupBooks,
  wish: {
    readonly role: Role;
    readonly note: string;
    readonly by: string | null;
    readonly person: string | null;
  },
): Promise<Outcome<CodeMade>> =>
  books.records.change(async (desk) => {
    const by = wish.by === null ? null : asId<'person'>(wish.by);
    const person = wish.person === null ? null : asId<'person'>(wish.person);
    if (person !== null) {
      const there = await known(desk.people.get(person), 'person', person);
      if (!there.ok) return there;
      const account = await desk.accounts.of(person);
      if (account) {
        return refused({
          why: 'name-taken',
          message: `${there.value.name} has an account already${account.closedAt === null ? '' : ', which is closed; open it again'}.`,
        });
      }
    }
    const note = wish.note.slice(0, 200);
    return done(await addCode(books, desk, { purpose: 'join', role: wish.role, note, person, by }));
  });

/** One sentence for every code that opens nothing, so that it tells nothing of the others. */
export const noSuchCode = (): Outcome<never> =>
  refused({
    why: 'no-such-code',
    message:
      'This code is not known, was used, was taken back or has run out; ask an owner of the laboratory for a new one.',
  });

/** The open invitation of a code; null where it opens nothing of the kind. */
export async function openInvitation(
  { records, clock, secrets }: GroupBooks,
  code: string,
  purpose: Invitation['purpose'],
): Promise<Invitation | null> {
  const found = await records.look((look) => look.invitations.get(secrets.sha256(code.trim())));
  return found?.purpose === purpose && stateOfInvitation(found, clock.now()) === 'open' ? found : null;
}

export const isPasswordCodeOf =
  (person: PersonId) =>
  (one: Invitation): boolean =>
    one.purpose === 'password' && one.person === person;

/** Takes back every open code that `which` names. */
export async function takeBackOpen(
  desk: Desk,
  which: (invitation: Invitation) => boolean,
  by: PersonId,
  at: Instant,
): Promise<void> {
  for (const one of await desk.invitations.list()) {
    if (stateOfInvitation(one, at) === 'open' && which(one)) await desk.invitations.takeBack(one.id, by, at);
  }
}

/** An invitation or a code for a password that was not used opens nothing any more; it stays in the list as taken back. */
export const takeBackInvitation = (
  { records, clock }: Pick<GroupBooks, 'records' | 'clock'>,
  wish: { readonly invitation: string; readonly by: string },
): Promise<Outcome<null>> =>
  records.change(async (desk) => {
    const at = clock.now();
    const all = await desk.invitations.list();
    const found = all.find((one) => one.id === wish.invitation) ?? null;
    const there = await known(Promise.resolve(found), 'invitation', wish.invitation);
    if (!there.ok) return there;
    const state = stateOfInvitation(there.value, at);
    if (state !== 'open') {
      const words = { used: 'was used', 'taken-back': 'was taken back', 'run-out': 'has run out' }[state];
      return refused({
        why: 'code-is-over',
        message: `This code ${words} already: there is nothing to take back.`,
      });
    }
    await desk.invitations.takeBack(there.value.id, asId(wish.by), at);
    return done(null);
  });
