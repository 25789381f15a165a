/** Where photographs lie now. */
import { bigint, boolean, pgTable, pgView, text } from 'drizzle-orm/pg-core';
import { id, instant, photoColumns } from './columns.ts';

export const photoMove = pgTable('photo_move', {
  id: id<'photo-move'>('id').primaryKey(),
  turn: bigint('turn', { mode: 'number' }).generatedAlwaysAsIdentity(),
  photo: id<'photo'>('photo').notNull(),
  /** Null: set aside. */
  filter: id<'filter'>('filter'),
  why: text('why').notNull(),
  by: id<'person'>('by').notNull(),
  at: instant('at').notNull(),
});

/** Each photograph with the filter that it lies on now; one that was set aside keeps that of its first place. */
export const photoNow = pgView('photo_now', {
  ...photoColumns(),
  aside: boolean('aside').notNull(),
}).existing();
