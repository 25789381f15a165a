import { ROUTES, type RouteName } from '../api/index.ts';
import type { Right } from '../study/index.ts';

/** `nobody`: also without signing in. What is not listed is read where it only reads, and work where it changes something. */
const OTHERWISE: Partial<Readonly<Record<RouteName, Right | 'nobody'>>> = {
  me: 'nobody',
  signIn: 'nobody',
  join: 'nobody',
  newPassword: 'nobody',
  signOut: 'enter',
  // Their own, whoever they are.
  changePassword: 'enter',
  laboratory: 'enter',
  // Names of studies tell nothing of a picture; a scorer finds the round by them.
  studies: 'enter',
  scoring: 'score',
  blindPicture: 'score',
  readCard: 'score',
  lockRound: 'score',
  accounts: 'run',
  changeAccount: 'run',
  invite: 'run',
  takeBackInvitation: 'run',
  codeForPassword: 'run',
  openRound: 'work',
  packStudy: 'take',
  packet: 'work',
  network: 'run',
  unpackStudy: 'run',
  openNetwork: 'run',
  closeNetwork: 'run',
  offerPairing: 'run',
  revokeDevice: 'run',
  acceptPairing: 'nobody',
  // A calculation on numbers that the asker brings; nothing of the laboratory is in it.
  claimFromCounts: 'enter',
  flow: 'enter',
  planDesign: 'enter',
  planLimits: 'enter',
};

/** What somebody must be allowed in order to use a route: the one place. */
export const rightFor = (name: RouteName): Right | 'nobody' =>
  OTHERWISE[name] ?? (ROUTES[name].method === 'get' ? 'read' : 'work');
