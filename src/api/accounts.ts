import { z } from 'zod';
import { INVITATION_STATES, ROLES } from '../study/index.ts';

const role = z.enum(ROLES);

export const AccountJson = z
  .object({
    person: z.string(),
    name: z.string(),
    login: z.string(),
    role,
    closed: z.boolean(),
  })
  .meta({ id: 'Account' });
export type AccountJson = z.infer<typeof AccountJson>;

export const MeAnswer = z
  .object({
    accounts: z.boolean().describe('False on a laboratory of one person: nobody signs in.'),
    account: AccountJson.nullable().describe('Who is signed in; null: nobody.'),
  })
  .meta({ id: 'Me' });
export type MeAnswer = z.infer<typeof MeAnswer>;

export const SignInWish = z
  .object({ login: z.string().max(200), password: z.string().max(400) })
  .meta({ id: 'SignInWish' });
export type SignInWish = z.infer<typeof SignInWish>;

export const JoinWish = z
  .object({
    code: z.string().max(200),
    name: z.string().max(200).describe('May be empty where the invitation is in a name already here.'),
    login: z.string().max(200),
    password: z.string().max(400),
  })
  .meta({ id: 'JoinWish' });
export type JoinWish = z.infer<typeof JoinWish>;

export const InvitationJson = z
  .object({
    id: z.string(),
    purpose: z.enum(['join', 'password']).describe('To make an account, or to set a new password.'),
    role,
    note: z.string(),
    person: z.string().nullable().describe('Name of whom it is for, where they are in the record.'),
    made_at: z.string(),
    by: z.string().nullable().describe('Name; null: made at the start of the server.'),
    ends_at: z.string(),
    state: z.enum(INVITATION_STATES),
    over_at: z.string().nullable().describe('When it was used or taken back.'),
    over_by: z.string().nullable().describe('Name of who used it or took it back.'),
  })
  .meta({ id: 'Invitation' });
export type InvitationJson = z.infer<typeof InvitationJson>;

/** What was done with accounts, as it is kept in the journal. */
export const ACCOUNT_DEEDS = ['change-account', 'change-password', 'new-password'] as const;

export const AccountActJson = z
  .object({
    at: z.string(),
    by: z.string().nullable().describe('Name.'),
    deed: z.enum(ACCOUNT_DEEDS),
    whose: z.string().describe('Name of whose account it is.'),
    role: role.nullable().describe('The role it was given.'),
    closed: z.boolean().describe('Whether it was closed by it.'),
    code_by: z.string().nullable().describe('Name of who made the code for a new password.'),
  })
  .meta({ id: 'AccountAct' });
export type AccountActJson = z.infer<typeof AccountActJson>;

export const AccountsAnswer = z
  .object({
    accounts: z.array(AccountJson),
    invitations: z.array(InvitationJson).describe('Newest first.'),
    without_account: z
      .array(z.object({ person: z.string(), name: z.string() }))
      .describe('People in the record for whom an invitation can be made in their name.'),
    acts: z.array(AccountActJson).describe('The latest, newest first.'),
  })
  .meta({ id: 'Accounts' });
export type AccountsAnswer = z.infer<typeof AccountsAnswer>;

export const AccountChange = z
  .object({ role: role.nullable().describe('Null closes the account and ends its sessions.') })
  .meta({ id: 'AccountChange' });
export type AccountChange = z.infer<typeof AccountChange>;

export const InviteWish = z
  .object({
    role,
    note: z.string().max(200),
    person: z
      .string()
      .max(100)
      .optional()
      .describe('Somebody in the record whose account it makes; without it: somebody new.'),
  })
  .meta({ id: 'InviteWish' });
export type InviteWish = z.infer<typeof InviteWish>;

export const PasswordChange = z
  .object({ old: z.string().max(400), password: z.string().max(400) })
  .meta({ id: 'PasswordChange' });
export type PasswordChange = z.infer<typeof PasswordChange>;

export const NewPasswordWish = z
  .object({ code: z.string().max(200), password: z.string().max(400) })
  .meta({ id: 'NewPasswordWish' });
export type NewPasswordWish = z.infer<typeof NewPasswordWish>;

export const InviteAnswer = z
  .object({ code: z.string().describe('Shown once; hand it to the person.'), role, ends_at: z.string() })
  .meta({ id: 'InviteAnswer' });
export type InviteAnswer = z.infer<typeof InviteAnswer>;

export const SearchesAnswer = z
  .object({
    searches: z.array(
      z.object({
        photo: z.string(),
        study: z.string(),
        state: z.enum(['waiting', 'searching', 'searched', 'refused', 'set-aside']),
        reason: z.string().nullable(),
        tries: z.int().min(0),
        worker: z.string(),
        at: z.string(),
      }),
    ),
  })
  .meta({ id: 'Searches' });
export type SearchesAnswer = z.infer<typeof SearchesAnswer>;

export const DoneAnswer = z.object({ done: z.literal(true) }).meta({ id: 'Done' });
