import { z } from 'zod';
import {
  AccountChange,
  AccountJson,
  AccountsAnswer,
  DoneAnswer,
  InviteAnswer,
  InviteWish,
  JoinWish,
  MeAnswer,
  SearchesAnswer,
  SignInWish,
} from '../accounts.ts';
import { id, route } from '../route.ts';

export const ACCOUNT_ROUTES = {
  me: route({
    method: 'get',
    path: '/api/me',
    does: 'Who is signed in, and whether anybody must be.',
    answer: MeAnswer,
  }),
  signIn: route({
    method: 'post',
    path: '/api/sign-in',
    does: 'Sign in; the session lies in a cookie that scripts cannot read.',
    body: SignInWish,
    answer: MeAnswer,
  }),
  signOut: route({ method: 'post', path: '/api/sign-out', does: 'End this session.', answer: DoneAnswer }),
  join: route({
    method: 'post',
    path: '/api/join',
    does: 'Make an account with an invitation, and sign in.',
    body: JoinWish,
    answer: MeAnswer,
  }),
  accounts: route({
    method: 'get',
    path: '/api/accounts',
    does: 'All accounts and invitations.',
    answer: AccountsAnswer,
  }),
  changeAccount: route({
    method: 'post',
    path: '/api/accounts/{person}',
    does: 'Give an account another role, or close it.',
    params: z.object({ person: id }),
    body: AccountChange,
    answer: AccountJson,
  }),
  invite: route({
    method: 'post',
    path: '/api/invitations',
    does: 'A code that lets one person in.',
    body: InviteWish,
    answer: InviteAnswer,
  }),
  searches: route({
    method: 'get',
    path: '/api/searches',
    does: 'Where the search of each photo stands, for the whole group.',
    answer: SearchesAnswer,
  }),
  searchAgain: route({
    method: 'post',
    path: '/api/photos/{photo}/search',
    does: 'Search a photo again: one that was refused or set aside, or with a newer method. Old findings stay.',
    params: z.object({ photo: id }),
    answer: DoneAnswer,
  }),
} as const;
