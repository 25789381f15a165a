/** Tables of what a study means to do, and of what a laboratory declares for itself. */
import { bigint, jsonb, pgTable, text } from 'drizzle-orm/pg-core';
import type { Json, OwnStepKind, PlannedRun, Tolerances } from '../study/index.ts';
import { id, instant } from './columns.ts';

export const ownStepKind = pgTable('step_kind', {
  kind: text('kind').primaryKey(),
  says: text('says').notNull(),
  quantities: jsonb('quantities').$type<OwnStepKind['quantities']>().notNull(),
  touches: jsonb('touches').$type<OwnStepKind['touches']>().notNull(),
  brings: jsonb('brings').$type<OwnStepKind['brings']>().notNull(),
  makes: jsonb('makes').$type<OwnStepKind['makes']>().notNull(),
  at: instant('at').notNull(),
  by: id<'person'>('by').notNull(),
});

export const plan = pgTable('plan', {
  turn: bigint('turn', { mode: 'number' }).generatedAlwaysAsIdentity(),
  id: id<'plan'>('id').notNull(),
  study: id<'study'>('study').notNull(),
  answers: jsonb('answers').$type<Json>().notNull(),
  runs: jsonb('runs').$type<readonly PlannedRun[]>().notNull(),
  at: instant('at').notNull(),
  by: id<'person'>('by').notNull(),
});

export const comparisonRules = pgTable('comparison_rules', {
  turn: bigint('turn', { mode: 'number' }).generatedAlwaysAsIdentity(),
  id: id<'comparison-rules'>('id').notNull(),
  study: id<'study'>('study').notNull(),
  tolerances: jsonb('tolerances').$type<Tolerances>().notNull(),
  alike: jsonb('alike').$type<readonly (readonly string[])[]>().notNull(),
  because: text('because').notNull(),
  at: instant('at').notNull(),
  by: id<'person'>('by').notNull(),
});
