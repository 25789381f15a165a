/** How a study's photographs are searched. */
import { z } from 'zod';
import { OwnFalseFindsJson } from './own-false-finds.ts';

export const SearchWish = z
  .object({
    false_finds_per_blank: z
      .number()
      .min(0.01)
      .max(50)
      .describe('False finds on a photograph of an empty filter that are acceptable, on average.'),
    smallest_um: z
      .number()
      .min(1)
      .max(5000)
      .nullable()
      .describe('Smallest longest Feret diameter to report; null: what the optics allow.'),
  })
  .meta({ id: 'SearchWish' });
export type SearchWish = z.infer<typeof SearchWish>;

export const SearchJson = SearchWish.extend({
  said: z.object({ by: z.string(), at: z.string() }).nullable().describe('Null: nobody has changed it.'),
  own: OwnFalseFindsJson.nullable().describe(
    'What this setting gave on the study’s own controls; null: not measured for this way of searching.',
  ),
  otherwise: z.int().min(0).describe('Photos searched in another way than would be done now.'),
  in_use: z
    .int()
    .min(0)
    .describe('Further ones that stay as they are, because tests, drills or rounds name pieces on them.'),
}).meta({ id: 'Search' });
export type SearchJson = z.infer<typeof SearchJson>;
