/** Published values and whether a study may be held against them, as they travel. */
import { z } from 'zod';
import { COMPARABILITY_ANSWERS, COMPARABILITY_QUESTIONS } from '../study/index.ts';
import { IntervalJson } from './claim.ts';

const words = z.string().max(10_000);
const sizes = z.object({ from_um: z.number(), to_um: z.number().nullable().describe('Null: no upper end.') });

export const PublishedSpreadJson = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('none') }),
  z.object({ kind: z.literal('interval'), lower: z.number(), upper: z.number(), confidence: z.number() }),
  z.object({ kind: z.literal('runs'), sd: z.number(), runs: z.number() }),
]);
export type PublishedSpreadJson = z.infer<typeof PublishedSpreadJson>;

const answers = z.object(
  Object.fromEntries(COMPARABILITY_QUESTIONS.map((key) => [key, z.enum(COMPARABILITY_ANSWERS)])) as {
    [K in (typeof COMPARABILITY_QUESTIONS)[number]]: z.ZodEnum<{
      [A in (typeof COMPARABILITY_ANSWERS)[number]]: A;
    }>;
  },
);

export const PublishedWish = z
  .object({
    entry: z.string().nullable().default(null).describe('The comparison that this changes; null: a new one.'),
    specimen: z.string(),
    source: words,
    per_gram: z.number(),
    spread: PublishedSpreadJson.default({ kind: 'none' }),
    size_from_um: z.number().nullable().default(null).describe('Null: not stated.'),
    size_to_um: z.number().nullable().default(null).describe('Null: no upper end.'),
    bands: z
      .array(z.object({ from_um: z.number(), to_um: z.number().nullable(), share: z.number() }))
      .default([])
      .describe('How the published pieces spread over sizes; empty: not given.'),
    answers,
    note: words.default(''),
  })
  .meta({ id: 'PublishedWish' });
export type PublishedWish = z.infer<typeof PublishedWish>;

export const PublishedStandingWish = z.object({ stands: z.boolean() }).meta({ id: 'PublishedStandingWish' });
export type PublishedStandingWish = z.infer<typeof PublishedStandingWish>;

export const PublishedJson = z
  .object({
    entry: z.string(),
    stands: z.boolean(),
    by: z.string(),
    at: z.string(),
    editions: z.int(),
    published: PublishedWish.omit({ entry: true }),
    verdict: z.enum(['comparable', 'in-sizes', 'not-comparable']),
    sizes: sizes.nullable().describe('Over which the two are compared; null: they are not.'),
    share: z.number().nullable().describe('Part of the published value that lies in these sizes.'),
    because: z.array(z.string()).describe('Why they are not comparable.'),
    but: z.array(z.string()).describe('What has to be said beside the ratio.'),
    ours_per_gram: IntervalJson.nullable(),
    theirs_per_gram: IntervalJson.nullable().describe('Over the same sizes.'),
    ratio: z
      .object({
        value: z.number(),
        lower: z.number(),
        upper: z.number().nullable().describe('Null: no upper end can be given.'),
        confidence: z.number(),
      })
      .nullable(),
    sentence: z.string(),
  })
  .meta({ id: 'Published' });
export type PublishedJson = z.infer<typeof PublishedJson>;

export const PublishedAnswer = z
  .object({
    own_sizes: sizes,
    questions: z.array(
      z.object({
        key: z.enum(COMPARABILITY_QUESTIONS),
        asks: z.string(),
        bars: z.boolean(),
        here: z.string(),
      }),
    ),
    values: z.array(PublishedJson),
  })
  .meta({ id: 'PublishedValues' });
export type PublishedAnswer = z.infer<typeof PublishedAnswer>;

export const PublishedMade = z.object({ entry: z.string() }).meta({ id: 'PublishedMade' });
