/** Who may do what in a laboratory that several people share. A laboratory of one person has no account. */
import type { PersonId } from './laboratory.ts';
import { aName, anId, anInstant, type Id, type Instant, maker, oneOf, orNull, text } from './rules.ts';

/** From the most that may be done to the least. */
export const ROLES = ['owner', 'bench', 'scorer', 'reader'] as const;
export type Role = (typeof ROLES)[number];

export interface Account {
  readonly person: PersonId;
  /** What is typed to sign in; small letters. */
  readonly login: string;
  readonly role: Role;
  /** The password's hash with its parameters (PHC string); never the password. */
  readonly secret: string;
  readonly madeAt: Instant;
  readonly by: PersonId | null;
  /** Since when nobody can sign in with it. */
  readonly closedAt: Instant | null;
}

export const makeAccount = maker<Account>('account', {
  person: anId,
  login: aName,
  role: oneOf(ROLES),
  secret: text(20, 400),
  madeAt: anInstant,
  by: orNull(anId),
  closedAt: orNull(anInstant),
});

/** A code that can be used once: to join, or to set a new password. */
export interface Invitation {
  readonly id: Id<'invitation'>;
  /** SHA-256 of the code; the code itself is shown once and kept nowhere. */
  readonly codeSha256: string;
  readonly purpose: 'join' | 'password';
  readonly role: Role;
  readonly note: string;
  /**
   * Whose it is. To join: somebody in the record whose account it makes; null: somebody new. For a password: whose.
   */
  readonly person: PersonId | null;
  readonly madeAt: Instant;
  /** Null for the first owner's, made at the start of the server. */
  readonly by: PersonId | null;
  readonly endsAt: Instant;
  readonly usedBy: PersonId | null;
  readonly usedAt: Instant | null;
  readonly takenBackBy: PersonId | null;
  readonly takenBackAt: Instant | null;
}

export const INVITATION_STATES = ['open', 'used', 'taken-back', 'run-out'] as const;
export type InvitationState = (typeof INVITATION_STATES)[number];

/** Only an open one can be used. */
export function stateOfInvitation(invitation: Invitation, now: Instant): InvitationState {
  if (invitation.usedBy !== null) return 'used';
  if (invitation.takenBackAt !== null) return 'taken-back';
  return invitation.endsAt > now ? 'open' : 'run-out';
}

export interface Session {
  readonly tokenSha256: string;
  readonly person: PersonId;
  readonly begunAt: Instant;
  readonly endsAt: Instant;
  readonly endedAt: Instant | null;
}

/**
 * Which roles may do what: the one place. `read` sees everything of the studies, `score` takes part in blinded rounds,
 * `work` records runs, photographs, marks and tests, `take` carries whole studies out of the laboratory, `run` invites people
 * and changes accounts. A scorer reads nothing that would tell a specimen from a control.
 */
export const MAY = {
  read: ['owner', 'bench', 'reader'],
  score: ['owner', 'bench', 'scorer'],
  work: ['owner', 'bench'],
  take: ['owner', 'bench'],
  run: ['owner'],
  /** What everybody signed in may see: the laboratory's name, who they are. */
  enter: ROLES,
} as const satisfies Readonly<Record<string, readonly Role[]>>;
export type Right = keyof typeof MAY;

export const may = (role: Role, right: Right): boolean => (MAY[right] as readonly Role[]).includes(role);
