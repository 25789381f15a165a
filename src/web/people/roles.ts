import type { AccountJson } from '../../api/index.ts';

export type Role = AccountJson['role'];

export const ROLE_DOES: { readonly [R in Role]: string } = {
  owner: 'everything, and who may do what',
  bench: 'runs, photographs, marks, tests, rounds',
  scorer: 'blinded rounds alone, nothing that would unblind',
  reader: 'sees all, changes nothing',
};
const names = Object.keys(ROLE_DOES) as Role[];
/** For a list in which each stands beside a name. */
export const ROLES = names.map((role) => [role, role] as const);
/** For whoever chooses one. */
export const ROLE_CHOICES = names.map((role) => [role, `${role}: ${ROLE_DOES[role]}`] as const);
