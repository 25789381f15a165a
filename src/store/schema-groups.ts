/** Tables of groups: accounts, invitations, sessions, and where the search of each photo stands. */
import { integer, jsonb, pgTable, text } from 'drizzle-orm/pg-core';
import type { SearchState } from '../actions/index.ts';
import type { Invitation, Role } from '../study/index.ts';
import type { Refusal } from '../units/index.ts';
import { id, instant } from './columns.ts';

export const account = pgTable('account', {
  person: id<'person'>('person').primaryKey(),
  login: text('login').notNull(),
  role: text('role').$type<Role>().notNull(),
  secret: text('secret').notNull(),
  madeAt: instant('made_at').notNull(),
  by: id<'person'>('by'),
  closedAt: instant('closed_at'),
});

export const invitation = pgTable('invitation', {
  codeSha256: text('code_sha256').primaryKey(),
  id: id<'invitation'>('id').notNull(),
  purpose: text('purpose').$type<Invitation['purpose']>().notNull(),
  role: text('role').$type<Role>().notNull(),
  note: text('note').notNull(),
  person: id<'person'>('person'),
  madeAt: instant('made_at').notNull(),
  by: id<'person'>('by'),
  endsAt: instant('ends_at').notNull(),
  usedBy: id<'person'>('used_by'),
  usedAt: instant('used_at'),
  takenBackBy: id<'person'>('taken_back_by'),
  takenBackAt: instant('taken_back_at'),
});

export const session = pgTable('session', {
  tokenSha256: text('token_sha256').primaryKey(),
  person: id<'person'>('person').notNull(),
  begunAt: instant('begun_at').notNull(),
  endsAt: instant('ends_at').notNull(),
  endedAt: instant('ended_at'),
});

export const photoSearch = pgTable('photo_search', {
  photo: id<'photo'>('photo').primaryKey(),
  study: id<'study'>('study').notNull(),
  state: text('state').$type<SearchState>().notNull(),
  refusal: jsonb('refusal').$type<Refusal>(),
  tries: integer('tries').notNull(),
  worker: text('worker').notNull(),
  at: instant('at').notNull(),
});
