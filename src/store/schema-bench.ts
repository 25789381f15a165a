/** Tables of the bench: taps, what was taken back, orders drawn, places of photographs, pictures of the set-up. */
import { bigint, integer, jsonb, pgTable, text, uuid } from 'drizzle-orm/pg-core';
import type { Id, PhotoFormat, Sha256, TapDeed, Withdrawable } from '../study/index.ts';
import type { Refusal } from '../units/index.ts';
import { id, instant } from './columns.ts';

export const benchTap = pgTable('bench_tap', {
  id: id<'tap'>('id').primaryKey(),
  turn: bigint('turn', { mode: 'number' }).generatedAlwaysAsIdentity(),
  run: id<'run'>('run').notNull(),
  device: text('device').notNull(),
  number: bigint('number', { mode: 'number' }).notNull(),
  deed: jsonb('deed').$type<TapDeed>().notNull(),
  refusal: jsonb('refusal').$type<Refusal>(),
  by: id<'person'>('by').notNull(),
  at: instant('at').notNull(),
  receivedAt: instant('received_at').notNull(),
});

export const withdrawal = pgTable('withdrawal', {
  id: id<'withdrawal'>('id').primaryKey(),
  study: id<'study'>('study').notNull(),
  what: text('what').$type<Withdrawable>().notNull(),
  subject: uuid('subject').$type<string>().notNull(),
  why: text('why').notNull(),
  at: instant('at').notNull(),
  by: id<'person'>('by').notNull(),
});

export const runOrder = pgTable('run_order', {
  id: id<'run-order'>('id').primaryKey(),
  study: id<'study'>('study').notNull(),
  seed: bigint('seed', { mode: 'number' }).notNull(),
  method: text('method').notNull(),
  runs: uuid('runs').array().$type<Id<'run'>[]>().notNull(),
  at: instant('at').notNull(),
  by: id<'person'>('by').notNull(),
});

export const photoPlace = pgTable('photo_place', {
  turn: bigint('turn', { mode: 'number' }).generatedAlwaysAsIdentity(),
  photo: id<'photo'>('photo').notNull(),
  square: integer('square').array(),
  at: instant('at').notNull(),
  by: id<'person'>('by').notNull(),
});

export const setupPhoto = pgTable('setup_photo', {
  id: id<'setup-photo'>('id').primaryKey(),
  run: id<'run'>('run').notNull(),
  stepKey: text('step_key'),
  sha256: text('sha256').$type<Sha256>().notNull(),
  name: text('name').notNull(),
  bytes: bigint('bytes', { mode: 'number' }).notNull(),
  format: text('format').$type<PhotoFormat>().notNull(),
  widthPx: integer('width_px').notNull(),
  heightPx: integer('height_px').notNull(),
  orientation: integer('orientation').notNull(),
  note: text('note').notNull(),
  at: instant('at').notNull(),
  by: id<'person'>('by').notNull(),
});
