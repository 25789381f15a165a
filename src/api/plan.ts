/** Contract `retentate/plan/1` as it travels: what a design can find, and how hours are best spent. */
import { z } from 'zod';
import type { PlanReport } from '../study/index.ts';

const open = z.number().nullable().default(null);

export const DesignPlanWish = z
  .strictObject({
    aim: z.enum(['above', 'amount']).default('amount').describe('A yes or no, or an amount.'),
    background_per_run: z.number().optional(),
    release_per_gram: open.describe('Release that is expected, or that matters; null: no chance is given.'),
    scatter: z
      .number()
      .optional()
      .describe('How much like runs differ beyond the chance of counting, as a share of their mean.'),
    portion_g: z.number().optional(),
    recovery: z.number().optional(),
    passed: z.number().optional(),
    examined: z.number().optional(),
    pieces_per_spike: z.number().optional(),
    hours_available: open,
    hours_per_specimen_run: z.number().optional(),
    hours_per_control: z.number().optional(),
    hours_per_spiked_run: z.number().optional(),
    hours_per_test: open.describe('To test one piece; null: none is tested.'),
    true_share: z.number().optional().describe('Share of the kept pieces that tests confirm.'),
    specimen_runs: open.describe('Runs that there are, or that can be made.'),
    controls: open,
    spiked_runs: open,
    confidence: z.number().optional(),
  })
  .meta({ id: 'DesignPlanWish' });
export type DesignPlanWish = z.infer<typeof DesignPlanWish>;

const chance = z.number().min(0).max(1).nullable();
const perGram = z.number().nullable();

const design = {
  specimen_runs: z.int(),
  controls: z.int(),
  spiked_runs: z.int(),
  tested_pieces: z.int().describe('On each side.'),
  hours: z.number(),
  chance_above: chance.describe('That the release is called above the background; null: none was given.'),
  chance_amount: chance.describe('That its amount can be stated; null: none was given, or not asked for.'),
  smallest_80_per_gram: perGram.describe(
    'Smallest release seen with 80 % chance; null: never by so few runs.',
  ),
  smallest_95_per_gram: perGram,
  limit_per_gram: perGram.describe('“Fewer than” when nothing is released, as it typically comes out.'),
} as const;
export const DesignJson = z.object(design).meta({ id: 'Design' });
export type DesignJson = z.infer<typeof DesignJson>;

export const DesignPlanJson: z.ZodType<PlanReport> = z
  .object({
    format: z.literal('retentate/plan/1'),
    aim: z.enum(['above', 'amount']),
    assumed: z.array(
      z.object({
        name: z.string(),
        value: z.number(),
        unit: z.string(),
        given: z.boolean(),
        because: z.string().describe('Why this one where none was given.'),
      }),
    ),
    designs: z.array(DesignJson).describe('Best first where hours and a release were given.'),
    best: z.int().nullable().describe('Which of them is recommended; null: none fits the hours.'),
    have: z
      .object({
        ...design,
        may_claim: z.boolean(),
        may_state_amount: z.boolean(),
        more: z.array(
          z.object({
            adds: z.enum(['two controls', 'two specimen runs', 'two controls and two specimen runs']),
            specimen_runs: z.int(),
            controls: z.int(),
            hours: z.number(),
            chance_above: chance,
            smallest_80_per_gram: perGram,
            limit_per_gram: perGram,
          }),
        ),
      })
      .nullable(),
    if_otherwise: z.array(z.object({ what: z.string(), chance_above: z.number() })),
    curve: z.array(z.object({ release_per_gram: z.number(), chance_above: z.number() })),
    sentence: z.string(),
    because: z.array(z.string()),
    next: z.array(z.string()),
    cautions: z.array(z.string()),
  })
  .meta({ id: 'DesignPlan' });
export type DesignPlanJson = PlanReport;
