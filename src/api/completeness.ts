/** Contract `retentate/completeness/1`: how small and how faint a piece these optics and this method still find. */
import { z } from 'zod';
import { RefusalJson } from './refusal.ts';

const FloorJson = z.object({
  chance: z.number().gt(0).lt(1),
  size_um: z
    .number()
    .positive()
    .nullable()
    .describe('Null where the drawn sizes do not show it; `because` says why.'),
  lower_um: z.number().positive().nullable(),
  upper_um: z.number().positive().nullable(),
  because: z.string().nullable(),
});

export const CompletenessJson = z
  .object({
    format: z.literal('retentate/completeness/1'),
    method: z.object({ name: z.string(), version: z.string() }),
    photographs: z.int().positive(),
    drawn: z.int().positive(),
    not_drawn: z.int().min(0).describe('Pieces that found no free place.'),
    blur_px: z.number().min(0),
    confidence: z.number().gt(0).lt(1),
    seed: z.int(),
    floors: z.array(
      z.object({ shape: z.string(), contrast: z.string(), half: FloorJson, nine_tenths: FloorJson }),
    ),
    cells: z.array(
      z.object({
        shape: z.string(),
        contrast: z.string(),
        size_um: z.number().positive(),
        found: z.int().min(0),
        drawn: z.int().positive(),
        share: z.number().min(0).max(1),
        lower: z.number().min(0).max(1),
        upper: z.number().min(0).max(1),
      }),
    ),
  })
  .meta({ id: 'Completeness' });
export type CompletenessJson = z.infer<typeof CompletenessJson>;

export const CompletenessAnswer = z
  .object({
    under_way: z.object({ done: z.int().min(0), of: z.int().min(0) }).nullable(),
    busy_elsewhere: z.boolean().describe('Another study’s controls are being drawn into on this server.'),
    refusal: RefusalJson.nullable().describe(
      'Why the last one since the server started ended without a result.',
    ),
    counted_from_um: z.number().positive(),
    measured: CompletenessJson.extend({
      at: z.string(),
      by: z.string(),
      by_contrast: z
        .array(
          z.object({
            contrast: z.string(),
            size_um: z.number().positive(),
            found: z.int().min(0),
            drawn: z.int().positive(),
            share: z.number().min(0).max(1),
            lower: z.number().min(0).max(1),
            upper: z.number().min(0).max(1),
          }),
        )
        .describe('All shapes together.'),
    }).nullable(),
  })
  .meta({ id: 'CompletenessOfStudy' });
export type CompletenessAnswer = z.infer<typeof CompletenessAnswer>;
