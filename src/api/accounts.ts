import { z } from 'zod';
import { ROLES } from '../study/index.ts';

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
    name: z.string().max(200),
    login: z.string().max(200),
    password: z.string().max(400),
  })
  .meta({ id: 'JoinWish' });
export type JoinWish = z.infer<typeof JoinWish>;

export const AccountsAnswer = z
  .object({
    accounts: z.array(AccountJson),
    invitations: z.array(
      z.object({ role, note: z.string(), ends_at: z.string(), used: z.boolean(), run_out: z.boolean() }),
    ),
  })
  .meta({ id: 'Accounts' });
export type AccountsAnswer = z.infer<typeof AccountsAnswer>;

export const AccountChange = z
  .object({ role: role.nullable().describe('Null closes the account and ends its sessions.') })
  .meta({ id: 'AccountChange' });
export type AccountChange = z.infer<typeof AccountChange>;

export const InviteWish = z.object({ role, note: z.string().max(200) }).meta({ id: 'InviteWish' });
export type InviteWish = z.infer<typeof InviteWish>;

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
