/** Contract `retentate/completeness/1`: how small and how faint a piece these optics and this method still find. */
import { z } from 'zod';

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
