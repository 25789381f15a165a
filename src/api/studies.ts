/** A study as people write it down: its question, its specimens and their portions. */
import { z } from 'zod';
import { COLOURS, SHAPES } from '../science/imaging/finding.ts';
import { ANSWER_UNITS, MASSES, SPECIMEN_ROLES } from '../study/index.ts';

const words = z.string().max(10_000);

/** The question, field by field, as it is typed; the record's own rules say in a sentence what cannot stand. */
export const QuestionWish = z
  .object({
    product: words,
    act: words,
    duration_min: z.number().nullable().default(null),
    liquid: words.default(''),
    size_from_um: z.number().describe('Maximum Feret diameter from which a piece counts.'),
    size_to_um: z.number().nullable().default(null).describe('Null: no upper end.'),
    unit: z.enum(ANSWER_UNITS).default('particles per gram'),
    counts_as_microplastic: words.default(''),
    shapes: z.array(z.enum(SHAPES)).default([]).describe('Empty: all shapes.'),
    colours: z.array(z.enum(COLOURS)).default([]).describe('Empty: all colours.'),
    confidence: z.number().default(0.95),
    matters: z.number().nullable().default(null).describe('Net figure that would matter; null: any release.'),
  })
  .meta({ id: 'QuestionWish' });
export type QuestionWish = z.infer<typeof QuestionWish>;

export const StudyWish = z
  .object({ name: z.string().max(1000), question: QuestionWish })
  .meta({ id: 'StudyWish' });
export type StudyWish = z.infer<typeof StudyWish>;

export const StudyMade = z.object({ id: z.string(), name: z.string() }).meta({ id: 'StudyMade' });
export type StudyMade = z.infer<typeof StudyMade>;

export const PortionJson = z
  .object({
    id: z.string(),
    specimen: z.string(),
    name: z.string(),
    mass_g: z.number().positive(),
    mass_is: z.enum(MASSES).describe('Which mass the answer is divided by.'),
    pieces: z.int().min(1).nullable(),
    note: z.string(),
    used_by: z.string().nullable().describe('Id of the specimen run that used it; null: free.'),
  })
  .meta({ id: 'Portion' });
export type PortionJson = z.infer<typeof PortionJson>;

export const SpecimenJson = z
  .object({
    id: z.string(),
    name: z.string(),
    role: z.enum(SPECIMEN_ROLES),
    maker: z.string(),
    lot: z.string(),
    age: z.string(),
    material: z.string(),
    mass_g: z.number().positive().nullable(),
    note: z.string(),
    portions: z.array(PortionJson),
  })
  .meta({ id: 'Specimen' });
export type SpecimenJson = z.infer<typeof SpecimenJson>;

export const SpecimensAnswer = z.object({ specimens: z.array(SpecimenJson) }).meta({ id: 'Specimens' });
export type SpecimensAnswer = z.infer<typeof SpecimensAnswer>;

export const SpecimenWish = z
  .object({
    name: words,
    role: z.enum(SPECIMEN_ROLES).default('product'),
    maker: words.default(''),
    lot: words.default(''),
    age: words.default(''),
    material: words.default(''),
    mass_g: z.number().nullable().default(null),
    note: words.default(''),
  })
  .meta({ id: 'SpecimenWish' });
export type SpecimenWish = z.infer<typeof SpecimenWish>;

export const PortionWish = z
  .object({
    name: words,
    mass_g: z.number(),
    mass_is: z.enum(MASSES).default('product-before'),
    pieces: z.number().nullable().default(null),
    note: words.default(''),
  })
  .meta({ id: 'PortionWish' });
export type PortionWish = z.infer<typeof PortionWish>;

/** What was written down, by its id. */
export const RecordMade = z.object({ id: z.string(), name: z.string() }).meta({ id: 'RecordMade' });
export type RecordMade = z.infer<typeof RecordMade>;
