/** Reporting and quality items filled by the records, and the two published scores. */
import { z } from 'zod';
import { ITEM_STATES, SEVERITIES } from '../study/index.ts';
import { PLACES } from './standing.ts';

export const ChecklistItemJson = z
  .object({
    id: z.string(),
    asks: z.string(),
    state: z.enum(ITEM_STATES),
    severity: z.enum(SEVERITIES).describe('What its lack does to a figure.'),
    says: z.string().describe('What was found, or what is missing and where it is entered.'),
    place: z.enum(PLACES),
    anchor: z.string().describe('The published demand, and how it was seen.'),
  })
  .meta({ id: 'ChecklistItem' });
export type ChecklistItemJson = z.infer<typeof ChecklistItemJson>;

export const ChecklistAnswer = z
  .object({
    items: z.array(ChecklistItemJson),
    missing: z.object({ blocks: z.int().min(0), weakens: z.int().min(0), note: z.int().min(0) }),
    scores: z.array(
      z.object({
        name: z.string(),
        total: z.int().min(0),
        most: z.int().min(0),
        any_nought: z
          .boolean()
          .describe('By the published rule the study as a whole is then not held reliable.'),
        criteria: z.array(z.object({ name: z.string(), score: z.int().min(0).max(2), because: z.string() })),
      }),
    ),
  })
  .meta({ id: 'Checklist' });
export type ChecklistAnswer = z.infer<typeof ChecklistAnswer>;

export const SafetyWish = z
  .object({
    data_sheets: z.string().max(2000).optional(),
    protection: z.string().max(2000).optional(),
    ventilation: z.string().max(2000).optional(),
    emergency: z.string().max(2000).optional(),
    waste: z.string().max(2000).optional(),
    supervision: z.string().max(2000).optional(),
  })
  .meta({ id: 'SafetyWish' });
export type SafetyWish = z.infer<typeof SafetyWish>;

export const SafetyJson = z
  .object({
    ready: z.boolean(),
    sentence: z.string(),
    stops: z.array(z.string()),
    questions: z.array(z.object({ field: z.string(), asks: z.string(), answer: z.string() })),
  })
  .meta({ id: 'Safety' });
export type SafetyJson = z.infer<typeof SafetyJson>;
