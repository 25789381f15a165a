/** Tables of the evidence: bench tests, known pieces and drills, subsets, blinded rounds. All of it is only ever added. */
import { bigint, boolean, doublePrecision, integer, jsonb, pgTable, text, uuid } from 'drizzle-orm/pg-core';
import type {
  BenchAnswer,
  Call,
  Confirmation,
  Guess,
  Id,
  KeyCard,
  KnownSet,
  PhotoFormat,
  Reading,
  RoundDeed,
  RoundOf,
  Sha256,
} from '../study/index.ts';
import { id, instant } from './columns.ts';

const turn = () => bigint('turn', { mode: 'number' }).generatedAlwaysAsIdentity();

export const testPicture = pgTable('test_picture', {
  id: id<'test-picture'>('id').primaryKey(),
  turn: turn(),
  study: id<'study'>('study').notNull(),
  particle: id<'particle'>('particle').notNull(),
  sha256: text('sha256').$type<Sha256>().notNull(),
  name: text('name').notNull(),
  bytes: bigint('bytes', { mode: 'number' }).notNull(),
  format: text('format').$type<PhotoFormat>().notNull(),
  by: id<'person'>('by').notNull(),
  at: instant('at').notNull(),
});

export const benchAnswer = pgTable('bench_answer', {
  id: id<'bench-answer'>('id').primaryKey(),
  turn: turn(),
  study: id<'study'>('study').notNull(),
  particle: id<'particle'>('particle').notNull(),
  test: text('test').notNull(),
  edition: integer('edition').notNull(),
  answer: jsonb('answer').$type<BenchAnswer['answer']>().notNull(),
  origin: text('origin').$type<BenchAnswer['origin']>().notNull(),
  outside: text('outside'),
  before: id<'test-picture'>('before'),
  after: id<'test-picture'>('after'),
  note: text('note').notNull(),
  by: id<'person'>('by').notNull(),
  at: instant('at').notNull(),
});

export const knownSet = pgTable('known_set', {
  id: id<'known-set'>('id').primaryKey(),
  turn: turn(),
  study: id<'study'>('study').notNull(),
  name: text('name').notNull(),
  made: text('made').notNull(),
  pieces: jsonb('pieces').$type<KnownSet['pieces']>().notNull(),
  by: id<'person'>('by').notNull(),
  at: instant('at').notNull(),
});

export const drillAnswer = pgTable('drill_answer', {
  id: id<'drill-answer'>('id').primaryKey(),
  turn: turn(),
  study: id<'study'>('study').notNull(),
  set: id<'known-set'>('set').notNull(),
  piece: text('piece').notNull(),
  test: text('test').notNull(),
  called: text('called').$type<Call>().notNull(),
  announced: boolean('announced').notNull(),
  by: id<'person'>('by').notNull(),
  at: instant('at').notNull(),
});

export const evidenceUndo = pgTable('evidence_undo', {
  id: id<'evidence-undo'>('id').primaryKey(),
  turn: turn(),
  study: id<'study'>('study').notNull(),
  undoes: uuid('undoes').$type<string>().notNull(),
  by: id<'person'>('by').notNull(),
  at: instant('at').notNull(),
});

export const confirmation = pgTable('confirmation', {
  id: id<'confirmation'>('id').primaryKey(),
  turn: turn(),
  study: id<'study'>('study').notNull(),
  name: text('name').notNull(),
  test: text('test').notNull(),
  seed: bigint('seed', { mode: 'number' }).notNull(),
  strata: jsonb('strata').$type<Confirmation['strata']>().notNull(),
  by: id<'person'>('by').notNull(),
  at: instant('at').notNull(),
});

export const blindRound = pgTable('blind_round', {
  id: id<'round'>('id').primaryKey(),
  turn: turn(),
  study: id<'study'>('study').notNull(),
  name: text('name').notNull(),
  what: text('what').$type<RoundOf>().notNull(),
  scorers: uuid('scorers').array().$type<Id<'person'>[]>().notNull(),
  third: id<'person'>('third'),
  knownSet: id<'known-set'>('known_set'),
  guessShare: doublePrecision('guess_share').notNull(),
  againShare: doublePrecision('again_share').notNull(),
  seed: bigint('seed', { mode: 'number' }).notNull(),
  key: jsonb('key').$type<readonly KeyCard[]>().notNull(),
  keyHash: text('key_hash').notNull(),
  by: id<'person'>('by').notNull(),
  at: instant('at').notNull(),
});

export const blindReading = pgTable('blind_reading', {
  id: id<'reading'>('id').primaryKey(),
  turn: turn(),
  round: id<'round'>('round').notNull(),
  code: text('code').notNull(),
  pass: integer('pass').$type<1 | 2>().notNull(),
  called: text('called').$type<Call>(),
  points: jsonb('points').$type<Reading['points']>(),
  guess: text('guess').$type<Guess>(),
  by: id<'person'>('by').notNull(),
  at: instant('at').notNull(),
});

export const roundEvent = pgTable('round_event', {
  id: id<'round-event'>('id').primaryKey(),
  turn: turn(),
  round: id<'round'>('round').notNull(),
  deed: text('deed').$type<RoundDeed>().notNull(),
  says: text('says').notNull(),
  by: id<'person'>('by').notNull(),
  at: instant('at').notNull(),
});
