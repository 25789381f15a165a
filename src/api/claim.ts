/** Contract `retentate/claim/1`: the strongest sentence that the evidence allows, with its number. */
import { z } from 'zod';
import { CLAIM_STATES, IDENTIFIED_BY } from '../study/index.ts';

export const IntervalJson = z
  .object({ value: z.number(), lower: z.number(), upper: z.number(), confidence: z.number().gt(0).lt(1) })
  .meta({ id: 'Interval' });

export const ClaimJson = z
  .object({
    format: z.literal('retentate/claim/1'),
    state: z.enum(CLAIM_STATES),
    identified_by: z.enum(IDENTIFIED_BY),
    attributed: z.boolean(),
    above_background: z
      .boolean()
      .nullable()
      .describe('What the primary test decides; null where nothing can be judged.'),
    net_per_gram: IntervalJson.nullable().describe('Null where nothing can be judged; the reasons say why.'),
    upper_limit_per_gram: z.number().nullable(),
    background: z.record(z.string(), z.unknown()),
    thresholds: z.record(z.string(), z.unknown()),
    tests: z.array(z.looseObject({ name: z.string(), p: z.number().min(0).max(1).nullable() })),
    comparison: z.array(z.looseObject({ name: z.string() })).describe('Other published rules, side by side.'),
    sentence: z.string(),
    because: z.array(z.string()),
    next: z.array(z.string()).describe('What would move the claim.'),
  })
  .meta({ id: 'Claim' });
export type ClaimJson = z.infer<typeof ClaimJson>;

/** A portion, its count and what part of it was looked at, as `claim` takes it from counts alone. */
export const CountedPortionJson = z.object({
  name: z.string().max(200).optional(),
  mass_g: z.number().positive(),
  count: z.int().min(0),
  passed: z.number().gt(0).max(1).default(1),
  examined: z.number().gt(0).max(1).default(1),
});

export const ClaimWish = z
  .object({
    portions: z.array(CountedPortionJson).min(1).max(10_000),
    blanks: z
      .array(
        z.object({
          name: z.string().max(200).optional(),
          count: z.int().min(0),
          passed: z.number().gt(0).max(1).default(1),
          examined: z.number().gt(0).max(1).default(1),
        }),
      )
      .max(10_000),
    recovery: z
      .object({ found: z.int().min(0), added: z.int().min(1) })
      .nullable()
      .default(null),
    drill: z
      .object({
        true_positive: z.tuple([z.int().min(0), z.int().min(1)]),
        false_positive: z.tuple([z.int().min(0), z.int().min(1)]),
      })
      .nullable()
      .default(null),
    confidence: z.number().gt(0.5).lt(1).default(0.95),
  })
  .meta({ id: 'ClaimWish' });
export type ClaimWish = z.infer<typeof ClaimWish>;
