/** Contract `retentate/flow/1` as it travels: what a few timed volumes say of a filtration. */
import { z } from 'zod';
import { BLOCKING_LAWS } from '../science/fluids/index.ts';
import type { FlowReport } from '../study/index.ts';

export const VolumeMarkJson = z
  .object({ time_s: z.number(), volume_ml: z.number() })
  .meta({ id: 'VolumeMark' });
export type VolumeMarkJson = z.infer<typeof VolumeMarkJson>;

const amount = z.number().positive().nullable().default(null);

export const FlowWish = z
  .object({
    marks: z.array(VolumeMarkJson).max(1000).describe('Since the start of the flow; volume altogether.'),
    total_ml: amount.describe('All of the liquid to be filtered.'),
    area_cm2: amount.describe('Wetted area of the filter that the marks were made on.'),
    onto_cm2: amount.describe(
      'Wetted area of the filter that will be used, where the marks come from a test disc.',
    ),
    pore_um: amount,
    smallest_um: amount.describe('Smallest piece that the question asks for.'),
    pieces: amount.describe('How many pieces are expected in all of the liquid.'),
    piece_um: amount.describe('How wide they are across; the smallest asked for where not said.'),
    pressure_kpa: amount.describe('Of the pump; with the area it gives the resistance of the membrane.'),
    solids_g_l: amount.describe('Dry solids; with area and pressure they give the resistance of the cake.'),
    diluted: z.number().min(1).default(1).describe('How many times the liquid was diluted.'),
  })
  .meta({ id: 'FlowWish' });
export type FlowWish = z.infer<typeof FlowWish>;

/** `upper` null: no ceiling is in sight (a volume), or more than one in twenty that it never comes (a time). */
export const BandJson = z
  .object({ value: z.number(), lower: z.number(), upper: z.number().nullable(), confidence: z.number() })
  .meta({ id: 'Band' });
export type BandJson = z.infer<typeof BandJson>;

const FlowTimeJson = z.object({
  volume_ml: z.number(),
  chance_reached: z.number().describe('Probability that it passes before the flow is down to a tenth.'),
  time_s: BandJson.nullable().describe('Null: likelier than not it never passes.'),
});

export const FlowJson: z.ZodType<FlowReport> = z
  .object({
    format: z.literal('retentate/flow/1'),
    marks: z.array(VolumeMarkJson),
    law: z.enum(BLOCKING_LAWS).nullable().describe('Null: they cannot be told apart.'),
    law_sentence: z.string(),
    laws: z.array(
      z.object({
        law: z.enum(BLOCKING_LAWS),
        exponent: z.number(),
        probability: z.number(),
        start_flow_ml_per_min: z.number(),
        constant: z.number(),
        constant_unit: z.enum(['1/s', '1/mL', 's/mL²']),
        last_volume_ml: z.number().nullable().describe('Null: the law has no end.'),
        scatter: z.number().describe('Root mean square of the relative residuals of time.'),
      }),
    ),
    start_flow_ml_per_min: z.number(),
    flow_now_share: BandJson,
    capacity_ml: BandJson.describe('Volume at which the flow has fallen to the stated share of its start.'),
    capacity_at_flow_share: z.number(),
    follows_no_law: z.boolean(),
    curve: z.array(FlowTimeJson).describe('Times to volumes, from nothing to the end of the picture.'),
    total_ml: z.number().nullable(),
    passed: z.number().nullable().describe('Share of the liquid that has passed by the last mark.'),
    target: FlowTimeJson.nullable(),
    per_filter_ml: z.number().nullable().describe('Volume to pour on one filter.'),
    filters: z.number().nullable(),
    one_filter_area_cm2: z.number().nullable(),
    load: z
      .object({
        piece_um: z.number(),
        cover_at_most: z.number(),
        most_pieces: z.number(),
        share: z.number().nullable(),
        too_many: z.boolean(),
        filters: z.number().nullable(),
      })
      .nullable()
      .describe('How many pieces one filter shows before they hide one another.'),
    resistance: z
      .object({ cake_m_per_kg: z.number().nullable(), membrane_per_m: z.number() })
      .nullable()
      .describe('By the line of t/V on V, with water of 20 °C.'),
    advice: z.array(z.object({ kind: z.string(), message: z.string() })),
    cautions: z.array(z.string()),
  })
  .meta({ id: 'Flow' });
export type FlowJson = FlowReport;
