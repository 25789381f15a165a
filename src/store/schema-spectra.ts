/** Spectra of particles and of known materials; only ever added. */
import { bigint, jsonb, pgTable, text } from 'drizzle-orm/pg-core';
import type { Json, Sha256, SpectrumFile } from '../study/index.ts';
import { id, instant } from './columns.ts';

export const spectrumFile = pgTable('spectrum_file', {
  id: id<'spectrum-file'>('id').primaryKey(),
  turn: bigint('turn', { mode: 'number' }).generatedAlwaysAsIdentity(),
  study: id<'study'>('study').notNull(),
  particle: id<'particle'>('particle'),
  material: text('material'),
  sha256: text('sha256').$type<Sha256>().notNull(),
  name: text('name').notNull(),
  bytes: bigint('bytes', { mode: 'number' }).notNull(),
  technique: text('technique').$type<SpectrumFile['technique']>().notNull(),
  match: jsonb('match').$type<Json>(),
  by: id<'person'>('by').notNull(),
  at: instant('at').notNull(),
});
