/** Contract `retentate/claim/1`: the strongest sentence that the evidence allows, with its number. */
import { z } from 'zod';
import { CLAIM_STATES, IDENTIFIED_BY } from '../study/index.ts';

export const IntervalJson = z
  .object({ value: z.number(), lower: z.number(), upper: z.number(), confidence: z.number().gt(0).lt(1) })
  .meta({ id: 'Interval' });
export type IntervalJson = z.infer<typeof IntervalJson>;

const RobustnessRowJson = z.object({
  what: z.string(),
  choice: z.string(),
  above: z.boolean().nullable().describe('Null: cannot be judged under this choice; `refusal` says why.'),
  p: z.number().nullable(),
  net_per_gram: IntervalJson.nullable(),
  agrees: z.boolean(),
  refusal: z.string().nullable(),
});

/** The claim under every defensible choice. */
export const RobustnessJson = z
  .object({
    base: RobustnessRowJson,
    rows: z.array(RobustnessRowJson),
    agreeing: z.int().describe('Rows that read as the base does …'),
    judged: z.int().describe('… of those that could be judged.'),
    lowest_per_gram: z.number().nullable(),
    highest_per_gram: z.number().nullable(),
  })
  .meta({ id: 'Robustness' });
export type RobustnessJson = z.infer<typeof RobustnessJson>;

/** What the joint model of runs and controls says. */
export const JointJson = z
  .object({
    net_per_gram: IntervalJson,
    net_per_act: IntervalJson.describe('One act on one portion: one run.'),
    net_per_piece: IntervalJson.nullable(),
    background_per_run: IntervalJson,
    upper_limit_per_gram: z.number(),
    upper_limit_held: z.boolean(),
    probability_above: z.number(),
    decided_by: z.enum(['labels', 'model']),
    p: z.number(),
    scatter: z.object({ specimens: IntervalJson, controls: IntervalJson }),
    recovery: IntervalJson.nullable(),
    variance: z.array(z.object({ source: z.string(), share: z.number() })),
    method: z.string(),
  })
  .meta({ id: 'Joint' });

/** One size band: three zeros apart. Bands of one scheme hold the same particles. */
export const SizeBandJson = z
  .object({
    from_um: z.number(),
    to_um: z.number(),
    seen: z.enum(['counted', 'not-looked', 'could-not-be-seen', 'not-asked']),
    because: z.string().nullable(),
    specimens: z.int().nullable(),
    controls: z.int().nullable(),
    net: z.number().nullable(),
    net_per_gram: IntervalJson.nullable(),
    partly_out_of_sight: z.boolean(),
    partly_not_asked: z.boolean().describe('The question begins or ends within the band.'),
    chance_of_finding: z.number().nullable().describe('Where it was determined for these optics.'),
  })
  .meta({ id: 'SizeBand' });
export type SizeBandJson = z.infer<typeof SizeBandJson>;

export const SizesJson = z
  .array(
    z.object({
      scheme: z.enum(['iso-24187', 'eu-2024-1441']),
      name: z.string(),
      source: z.string(),
      bands: z.array(SizeBandJson),
      below: z.int().describe('Particles under the scheme’s smallest size, both sides.'),
      above: z.int(),
    }),
  )
  .meta({ id: 'Sizes' });
export type SizesJson = z.infer<typeof SizesJson>;

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
    net_per_portion: IntervalJson.nullable().describe('Per portion as used: one act, one run.'),
    net_per_piece: IntervalJson.nullable().describe('Null where the portions’ pieces are not known.'),
    natural_kept: IntervalJson.nullable().describe('Natural pieces that may be among the net count.'),
    joint: JointJson.nullable().describe('Null where there are too few runs for it.'),
    robustness: RobustnessJson.nullable(),
    sizes: SizesJson.nullable().describe('Null where no sizes were given.'),
    gaps: z.array(
      z.object({
        step: z.string(),
        grade: z.enum(['missing', 'different', 'unknown']),
        leaves_open: z.string(),
        control: z.string(),
      }),
    ),
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
export const CountedPortionJson = z.strictObject({
  name: z.string().max(200).optional(),
  mass_g: z.number().positive(),
  pieces: z.number().positive().optional(),
  count: z.int().min(0),
  passed: z.number().gt(0).max(1).default(1),
  examined: z.number().gt(0).max(1).default(1),
});

export const ClaimWish = z
  .strictObject({
    portions: z.array(CountedPortionJson).min(1, 'at least one is needed').max(10_000),
    blanks: z
      .array(
        z.strictObject({
          name: z.string().max(200).optional(),
          count: z.int().min(0),
          passed: z.number().gt(0).max(1).default(1),
          examined: z.number().gt(0).max(1).default(1),
        }),
      )
      .max(10_000),
    recovery: z
      .strictObject({ found: z.int().min(0), added: z.int().min(1) })
      .nullable()
      .default(null),
    spikes: z
      .array(z.strictObject({ found: z.int().min(0), added: z.int().min(1) }))
      .max(1000)
      .optional()
      .describe('The spiked runs one by one, in place of `recovery`: its scatter is then known.'),
    drill: z
      .strictObject({
        true_positive: z.tuple([z.int().min(0), z.int().min(1)]),
        false_positive: z.tuple([z.int().min(0), z.int().min(1)]),
      })
      .nullable()
      .default(null),
    confidence: z.number().gt(0.5).lt(1).default(0.95),
  })
  .meta({ id: 'ClaimWish' });
export type ClaimWish = z.infer<typeof ClaimWish>;
