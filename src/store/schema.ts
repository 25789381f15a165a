/** The tables as the queries see them. The tables themselves are made by migrations/; open-laboratory.test.ts compares the two. */
import {
  bigint,
  boolean,
  date,
  doublePrecision,
  integer,
  jsonb,
  pgTable,
  text,
  uuid,
} from 'drizzle-orm/pg-core';
import type {
  Certainty,
  Colour,
  Completeness,
  FieldLink,
  FindWish,
  GridSquare,
  Scale,
  Shape,
} from '../science/imaging/index.ts';
import type {
  Day,
  Decision,
  Edition,
  Id,
  Json,
  MeasuredFalseFinds,
  ParticleStanding,
  Question,
  Spike,
  Step,
} from '../study/index.ts';
import type { Count, Refusal } from '../units/index.ts';
import { id, instant, photoColumns, quantity } from './columns.ts';

export * from './schema-bench.ts';
export * from './schema-evidence.ts';
export * from './schema-groups.ts';
export * from './schema-plans.ts';
export * from './schema-spectra.ts';

export const laboratory = pgTable('laboratory', {
  id: id<'laboratory'>('id').notNull(),
  name: text('name').notNull(),
  invented: boolean('invented').notNull(),
  madeAt: instant('made_at').notNull(),
});

export const person = pgTable('person', {
  id: id<'person'>('id').primaryKey(),
  name: text('name').notNull(),
  initials: text('initials').notNull(),
  since: instant('since').notNull(),
});

export const study = pgTable('study', {
  id: id<'study'>('id').primaryKey(),
  name: text('name').notNull(),
  invented: boolean('invented').notNull(),
  question: jsonb('question').$type<Question>().notNull(),
  madeAt: instant('made_at').notNull(),
  by: id<'person'>('by').notNull(),
});

export const specimen = pgTable('specimen', {
  id: id<'specimen'>('id').primaryKey(),
  study: id<'study'>('study').notNull(),
  name: text('name').notNull(),
  role: text('role').$type<'product' | 'comparison'>().notNull(),
  maker: text('maker').notNull(),
  lot: text('lot').notNull(),
  age: text('age').notNull(),
  material: text('material').notNull(),
  massG: quantity<'g'>('mass_g'),
  note: text('note').notNull(),
  madeAt: instant('made_at').notNull(),
});

export const portion = pgTable('portion', {
  id: id<'portion'>('id').primaryKey(),
  specimen: id<'specimen'>('specimen').notNull(),
  name: text('name').notNull(),
  massG: quantity<'g'>('mass_g').notNull(),
  massIs: text('mass_is').$type<'product-before' | 'product-after' | 'food-or-liquid'>().notNull(),
  pieces: integer('pieces').$type<Count>(),
  note: text('note').notNull(),
});

export const procedure = pgTable('procedure', {
  id: id<'procedure'>('id').primaryKey(),
  study: id<'study'>('study').notNull(),
  name: text('name').notNull(),
});

export const edition = pgTable('edition', {
  id: id<'edition'>('id').primaryKey(),
  procedure: id<'procedure'>('procedure').notNull(),
  number: integer('number').notNull(),
  steps: jsonb('steps').$type<Edition['steps']>().notNull(),
  because: text('because').notNull(),
  madeAt: instant('made_at').notNull(),
  by: id<'person'>('by').notNull(),
});

export const run = pgTable('run', {
  id: id<'run'>('id').primaryKey(),
  study: id<'study'>('study').notNull(),
  edition: id<'edition'>('edition').notNull(),
  kind: text('kind').$type<import('../study/index.ts').RunKind>().notNull(),
  name: text('name').notNull(),
  portion: id<'portion'>('portion'),
  spike: jsonb('spike').$type<Spike>(),
  day: date('day', { mode: 'string' }).$type<Day>().notNull(),
  session: text('session').notNull(),
  order: integer('order').notNull(),
  by: id<'person'>('by').notNull(),
  note: text('note').notNull(),
  madeAt: instant('made_at').notNull(),
});

export const deviation = pgTable('deviation', {
  id: id<'deviation'>('id').primaryKey(),
  study: id<'study'>('study').notNull(),
  runs: uuid('runs').array().$type<Id<'run'>[]>().notNull(),
  kind: text('kind').$type<'changed' | 'left-out' | 'put-in'>().notNull(),
  stepKey: text('step_key'),
  asDone: jsonb('as_done').$type<Step>(),
  what: text('what').notNull(),
  why: text('why').notNull(),
  at: instant('at').notNull(),
  by: id<'person'>('by').notNull(),
});

export const fraction = pgTable('fraction', {
  id: id<'fraction'>('id').primaryKey(),
  run: id<'run'>('run').notNull(),
  kind: text('kind').$type<import('../study/index.ts').FractionKind>().notNull(),
  volumeMl: quantity<'mL'>('volume_ml').notNull(),
  place: text('place').notNull(),
  fate: text('fate').$type<import('../study/index.ts').Fate>().notNull(),
  note: text('note').notNull(),
  at: instant('at').notNull(),
});

export const optics = pgTable('optics', {
  id: id<'optics'>('id').primaryKey(),
  study: id<'study'>('study').notNull(),
  name: text('name').notNull(),
  lens: text('lens').notNull(),
  light: text('light').notNull(),
  umPerPx: quantity<'µm/px'>('um_per_px'),
  relativeUncertainty: doublePrecision('relative_uncertainty'),
  resolutionUm: quantity<'µm'>('resolution_um'),
  note: text('note').notNull(),
  madeAt: instant('made_at').notNull(),
});

export const filter = pgTable('filter', {
  id: id<'filter'>('id').primaryKey(),
  run: id<'run'>('run').notNull(),
  fraction: id<'fraction'>('fraction'),
  name: text('name').notNull(),
  material: text('material').notNull(),
  poreUm: quantity<'µm'>('pore_um').notNull(),
  effectiveDiameterMm: quantity<'mm'>('effective_diameter_mm').notNull(),
  pitchMm: quantity<'mm'>('pitch_mm'),
  lot: text('lot').notNull(),
  examinedStated: quantity<'1'>('examined_stated'),
  note: text('note').notNull(),
  madeAt: instant('made_at').notNull(),
});

/** As brought in. */
export const photo = pgTable('photo', photoColumns());

export const finding = pgTable('finding', {
  id: id<'finding'>('id').primaryKey(),
  turn: bigint('turn', { mode: 'number' }).generatedAlwaysAsIdentity(),
  photo: id<'photo'>('photo').notNull(),
  method: text('method').notNull(),
  version: text('version').notNull(),
  wish: jsonb('wish').$type<FindWish>().notNull(),
  wishKey: text('wish_key').notNull(),
  scale: jsonb('scale').$type<Scale>(),
  umPerPx: doublePrecision('um_per_px'),
  grid: jsonb('grid').$type<readonly GridSquare[]>().notNull(),
  refusal: jsonb('refusal').$type<Refusal>(),
  warnings: jsonb('warnings').$type<readonly Refusal[]>().notNull(),
  searchedFraction: quantity<'1'>('searched_fraction').notNull(),
  floorPx: doublePrecision('floor_px').notNull(),
  at: instant('at').notNull(),
});

export const particle = pgTable('particle', {
  id: id<'particle'>('id').primaryKey(),
  finding: id<'finding'>('finding').notNull(),
  photo: id<'photo'>('photo').notNull(),
  number: integer('number').notNull(),
  drawnBy: id<'mark'>('drawn_by'),
  standing: text('standing').$type<ParticleStanding>().notNull(),
  countsOn: id<'particle'>('counts_on'),
  shapeNow: text('shape_now').$type<Shape>().notNull(),
  colourNow: text('colour_now').$type<Colour>().notNull(),
  /** x, y, x, y … */
  outlinePx: doublePrecision('outline_px').array().notNull(),
  centroidPx: doublePrecision('centroid_px').array().notNull(),
  areaPx2: doublePrecision('area_px2').notNull(),
  feretMaxPx: doublePrecision('feret_max_px').notNull(),
  feretMinPx: doublePrecision('feret_min_px').notNull(),
  areaUm2: quantity<'µm²'>('area_um2'),
  feretMaxUm: quantity<'µm'>('feret_max_um'),
  feretMinUm: quantity<'µm'>('feret_min_um'),
  equivalentDiameterUm: quantity<'µm'>('equivalent_diameter_um'),
  perimeterUm: quantity<'µm'>('perimeter_um'),
  circularity: doublePrecision('circularity').notNull(),
  solidity: doublePrecision('solidity').notNull(),
  fibreLengthUm: quantity<'µm'>('fibre_length_um'),
  fibreWidthUm: quantity<'µm'>('fibre_width_um'),
  shape: text('shape').$type<Shape>().notNull(),
  shapeBecause: text('shape_because').notNull(),
  colour: text('colour').$type<Colour>().notNull(),
  lab: doublePrecision('lab').array().notNull(),
  touchesFrame: boolean('touches_frame').notNull(),
  square: integer('square').array(),
  frameWeight: doublePrecision('frame_weight').notNull(),
  certainty: jsonb('certainty').$type<Certainty>().notNull(),
});

export const joining = pgTable('joining', {
  id: id<'joining'>('id').primaryKey(),
  turn: bigint('turn', { mode: 'number' }).generatedAlwaysAsIdentity(),
  filter: id<'filter'>('filter').notNull(),
  apart: boolean('apart').notNull(),
  findings: uuid('findings').array().$type<Id<'finding'>[]>().notNull(),
  links: jsonb('links').$type<readonly FieldLink[]>().notNull(),
  placed: uuid('placed').array().$type<Id<'finding'>[]>().notNull(),
  once: quantity<'1'>('once').notNull(),
  by: id<'person'>('by'),
  at: instant('at').notNull(),
});

export const completeness = pgTable('completeness', {
  id: id<'completeness'>('id').primaryKey(),
  turn: bigint('turn', { mode: 'number' }).generatedAlwaysAsIdentity(),
  study: id<'study'>('study').notNull(),
  photos: uuid('photos').array().$type<Id<'photo'>[]>().notNull(),
  result: jsonb('result').$type<Completeness>().notNull(),
  by: id<'person'>('by').notNull(),
  at: instant('at').notNull(),
});

export const falseFinds = pgTable('false_finds', {
  id: id<'false-finds'>('id').primaryKey(),
  turn: bigint('turn', { mode: 'number' }).generatedAlwaysAsIdentity(),
  study: id<'study'>('study').notNull(),
  photos: uuid('photos').array().$type<Id<'photo'>[]>().notNull(),
  result: jsonb('result').$type<MeasuredFalseFinds['result']>().notNull(),
  by: id<'person'>('by').notNull(),
  at: instant('at').notNull(),
});

export const searchSettings = pgTable('search_settings', {
  id: id<'search-settings'>('id').primaryKey(),
  turn: bigint('turn', { mode: 'number' }).generatedAlwaysAsIdentity(),
  study: id<'study'>('study').notNull(),
  falseFindsPerBlank: doublePrecision('false_finds_per_blank').notNull(),
  smallestUm: quantity<'µm'>('smallest_um'),
  by: id<'person'>('by').notNull(),
  at: instant('at').notNull(),
});

export const mark = pgTable('mark', {
  id: id<'mark'>('id').primaryKey(),
  turn: bigint('turn', { mode: 'number' }).generatedAlwaysAsIdentity(),
  photo: id<'photo'>('photo').notNull(),
  particles: uuid('particles').array().$type<Id<'particle'>[]>().notNull(),
  decision: jsonb('decision').$type<Decision>().notNull(),
  undoes: id<'mark'>('undoes'),
  carries: id<'mark'>('carries'),
  by: id<'person'>('by').notNull(),
  at: instant('at').notNull(),
});

export const claimSnapshot = pgTable('claim_snapshot', {
  id: id<'snapshot'>('id').primaryKey(),
  turn: bigint('turn', { mode: 'number' }).generatedAlwaysAsIdentity(),
  study: id<'study'>('study').notNull(),
  specimen: id<'specimen'>('specimen').notNull(),
  claim: jsonb('claim').$type<Json>().notNull(),
  counts: jsonb('counts').$type<Json>().notNull(),
  version: text('version').notNull(),
  at: instant('at').notNull(),
  by: id<'person'>('by').notNull(),
});

export const journal = pgTable('journal', {
  turn: bigint('turn', { mode: 'number' }).generatedAlwaysAsIdentity(),
  at: instant('at').notNull(),
  by: id<'person'>('by'),
  deed: text('deed').notNull(),
  subject: text('subject').notNull(),
  facts: jsonb('facts').$type<Json>().notNull(),
});
