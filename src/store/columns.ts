/** Kinds of column that every topic's tables share. */
import { customType, doublePrecision, uuid } from 'drizzle-orm/pg-core';
import type { Id, Instant } from '../study/index.ts';
import type { Quantity } from '../units/index.ts';

export const instant = customType<{ data: Instant; driverData: string }>({
  dataType: () => 'timestamptz',
  fromDriver: (stored) => new Date(stored).toISOString() as Instant,
});
export const id = <K extends string>(column: string) => uuid(column).$type<Id<K>>();
/** A quantity with its unit, as the record names it. */
export const quantity = <U extends string>(column: string) => doublePrecision(column).$type<Quantity<U>>();
