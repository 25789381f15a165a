import { z } from 'zod';
import { RefusalJson } from './refusal.ts';

/** What `/api/progress` sends as server-sent events (event name `progress`, one JSON object in `data`). */
export const ProgressEvent = z
  .discriminatedUnion('what', [
    z.object({
      what: z.literal('photo'),
      study: z.string(),
      filter: z.string(),
      photo: z.string(),
      state: z.enum(['waiting', 'searching', 'searched', 'refused']),
      share: z.number().min(0).max(1).describe('How much of this photo is done.'),
      refusal: RefusalJson.nullable(),
    }),
    z.object({
      what: z.literal('marks'),
      study: z.string(),
      photo: z.string(),
    }),
    z.object({ what: z.literal('queue'), waiting: z.int().min(0), searching: z.int().min(0) }),
  ])
  .meta({ id: 'ProgressEvent' });
export type ProgressEvent = z.infer<typeof ProgressEvent>;
