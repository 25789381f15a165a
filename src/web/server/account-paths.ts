import type { ACCOUNT_ROUTES } from '../../api/index.ts';

type Routes = typeof ACCOUNT_ROUTES;

/** Method and path of the routes of accounts; their types are the routes of api/ themselves. */
export const ACCOUNT_PATHS: {
  readonly [N in keyof Routes]: readonly [method: Routes[N]['method'], path: Routes[N]['path']];
} = {
  me: ['get', '/api/me'],
  signIn: ['post', '/api/sign-in'],
  signOut: ['post', '/api/sign-out'],
  join: ['post', '/api/join'],
  accounts: ['get', '/api/accounts'],
  changeAccount: ['post', '/api/accounts/{person}'],
  invite: ['post', '/api/invitations'],
  takeBackInvitation: ['post', '/api/invitations/{invitation}/take-back'],
  changePassword: ['post', '/api/me/password'],
  codeForPassword: ['post', '/api/accounts/{person}/password-code'],
  newPassword: ['post', '/api/new-password'],
  searches: ['get', '/api/searches'],
  searchAgain: ['post', '/api/photos/{photo}/search'],
};
