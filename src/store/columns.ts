/** Kinds of column that every topic's tables share. */
import { bigint, customType, doublePrecision, integer, text, uuid } from 'drizzle-orm/pg-core';
import type { Id, Instant, PhotoFormat, Sha256 } from '../study/index.ts';
import type { Quantity } from '../units/index.ts';

export const instant = customType<{ data: Instant; driverData: string }>({
  dataType: () => 'timestamptz',
  fromDriver: (stored) => new Date(stored).toISOString() as Instant,
});
export const id = <K extends string>(column: string) => uuid(column).$type<Id<K>>();
/** A quantity with its unit, as the record names it. */
export const quantity = <U extends string>(column: string) => doublePrecision(column).$type<Quantity<U>>();

/** Those of a photograph, as it was brought in and as it lies now. */
export const photoColumns = () => ({
  id: id<'photo'>('id').primaryKey(),
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
});
