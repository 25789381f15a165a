/** Where photographs lie now. */
import { bigint, boolean, integer, pgTable, pgView, text } from 'drizzle-orm/pg-core';
import type { PhotoFormat, Sha256 } from '../study/index.ts';
import { id, instant } from './columns.ts';

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
  id: id<'photo'>('id').notNull(),
  filter: id<'filter'>('filter').notNull(),
  sha256: text('sha256').$type<Sha256>().notNull(),
  name: text('name').notNull(),
  bytes: bigint('bytes', { mode: 'number' }).notNull(),
  format: text('format').$type<PhotoFormat>().notNull(),
  widthPx: integer('width_px').notNull(),
  heightPx: integer('height_px').notNull(),
  orientation: integer('orientation').notNull(),
  optics: id<'optics'>('optics'),
  at: instant('at').notNull(),
  by: id<'person'>('by').notNull(),
  aside: boolean('aside').notNull(),
}).existing();
