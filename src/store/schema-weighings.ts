/** What was weighed of the product before and after its runs; only ever added. */
import { bigint, boolean, pgTable, text } from 'drizzle-orm/pg-core';
import { id, instant, quantity } from './columns.ts';

export const weighing = pgTable('weighing', {
  id: id<'weighing'>('id').primaryKey(),
  turn: bigint('turn', { mode: 'number' }).generatedAlwaysAsIdentity(),
  run: id<'run'>('run').notNull(),
  stands: boolean('stands').notNull(),
  beforeG: quantity<'g'>('before_g').notNull(),
  afterG: quantity<'g'>('after_g').notNull(),
  uncertaintyG: quantity<'g'>('uncertainty_g').notNull(),
  note: text('note').notNull(),
  by: id<'person'>('by').notNull(),
  at: instant('at').notNull(),
});
