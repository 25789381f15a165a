/** Shelves of groups: accounts, invitations, sessions, and where the search of each photo stands. */
import type { Account, Instant, Invitation, PersonId, PhotoId, Session, StudyId } from '../study/index.ts';
import type { Refusal } from '../units/index.ts';

export const SEARCH_STATES = ['waiting', 'searching', 'searched', 'refused', 'set-aside'] as const;
export type SearchState = (typeof SEARCH_STATES)[number];

/** Where the search of one photo stands, whichever process does it. */
export interface PhotoSearchState {
  readonly photo: PhotoId;
  readonly study: StudyId;
  readonly state: SearchState;
  /** Why it ended without a finding. */
  readonly refusal: Refusal | null;
  readonly tries: number;
  readonly worker: string;
  readonly at: Instant;
}

export interface LookAtGroups {
  readonly accounts: {
    of(person: PersonId): Promise<Account | null>;
    byLogin(login: string): Promise<Account | null>;
    list(): Promise<readonly Account[]>;
  };
  readonly invitations: {
    get(codeSha256: string): Promise<Invitation | null>;
    list(): Promise<readonly Invitation[]>;
  };
  readonly sessions: { get(tokenSha256: string): Promise<Session | null> };
  readonly searches: {
    of(photo: PhotoId): Promise<PhotoSearchState | null>;
    list(): Promise<readonly PhotoSearchState[]>;
    /** How many photos of a study wait. */
    waiting(study: StudyId): Promise<number>;
  };
}

export interface WriteAtGroups {
  readonly accounts: LookAtGroups['accounts'] & {
    add(account: Account): Promise<void>;
    /** Role, password or closing; everything else stays. */
    change(account: Account): Promise<void>;
  };
  readonly invitations: LookAtGroups['invitations'] & {
    add(invitation: Invitation): Promise<void>;
    /** False when it was used, was taken back or ran out meanwhile. */
    use(codeSha256: string, by: PersonId, at: Instant): Promise<boolean>;
    /** One that was used stays used. */
    takeBack(id: Invitation['id'], by: PersonId, at: Instant): Promise<void>;
  };
  readonly sessions: LookAtGroups['sessions'] & {
    add(session: Session): Promise<void>;
    end(tokenSha256: string, at: Instant): Promise<void>;
    /** `butOne`: the hash of the token whose session goes on. */
    endAllOf(person: PersonId, at: Instant, butOne?: string): Promise<void>;
  };
  readonly searches: LookAtGroups['searches'] & { put(state: PhotoSearchState): Promise<void> };
}
