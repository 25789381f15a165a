/** Published values that a study is held against; only ever added. */
import { bigint, boolean, doublePrecision, jsonb, pgTable, text } from 'drizzle-orm/pg-core';
import type { PublishedValue } from '../study/index.ts';
import { id, instant } from './columns.ts';

export const publishedValue = pgTable('published_value', {
  id: id<'published-value'>('id').primaryKey(),
  turn: bigint('turn', { mode: 'number' }).generatedAlwaysAsIdentity(),
  entry: id<'published-entry'>('entry').notNull(),
  study: id<'study'>('study').notNull(),
  specimen: id<'specimen'>('specimen').notNull(),
  stands: boolean('stands').notNull(),
  source: text('source').notNull(),
  perGram: doublePrecision('per_gram').notNull(),
  spread: jsonb('spread').$type<PublishedValue['spread']>().notNull(),
  sizeFromUm: doublePrecision('size_from_um'),
  sizeToUm: doublePrecision('size_to_um'),
  bands: jsonb('bands').$type<PublishedValue['bands']>().notNull(),
  answers: jsonb('answers').$type<PublishedValue['answers']>().notNull(),
  note: text('note').notNull(),
  by: id<'person'>('by').notNull(),
  at: instant('at').notNull(),
});
