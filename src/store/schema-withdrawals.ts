/** What was withdrawn and put back. */
import { bigint, boolean, pgTable, text, uuid } from 'drizzle-orm/pg-core';
import type { Returning } from '../study/index.ts';
import { id, instant } from './columns.ts';

export const withdrawalWord = pgTable('withdrawal_word', {
  id: id<'withdrawal-word'>('id').primaryKey(),
  turn: bigint('turn', { mode: 'number' }).generatedAlwaysAsIdentity(),
  study: id<'study'>('study').notNull(),
  what: text('what').$type<Returning>().notNull(),
  subject: uuid('subject').$type<string>().notNull(),
  /** False: put back. */
  withdrawn: boolean('withdrawn').notNull(),
  why: text('why').notNull(),
  countOpen: boolean('count_open').notNull(),
  by: id<'person'>('by').notNull(),
  at: instant('at').notNull(),
});
