import { z } from 'zod';

/** False finds a photograph on a study's own controls; least and most differ by the finds that nobody decided on. */
export const OwnFalseFindsJson = z.object({
  photographs: z.int().positive(),
  least: z.number().min(0),
  most: z.number().min(0),
  lower: z.number().min(0),
  upper: z.number().min(0),
  confidence: z.number().gt(0).lt(1),
});
