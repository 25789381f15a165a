/** The ten questions, the plan that answers them, and the plan as it is kept. */
import { z } from 'zod';
import { EQUIPMENT, MATRICES, POLYMER_GROUPS, REAGENTS, SETTINGS } from '../science/digestion/index.ts';
import { ACTS, ANSWER_UNITS, RUN_KINDS, SAFETY_FIELDS, SEEING } from '../study/index.ts';
import { SafetyJson } from './checklist.ts';

const words = z.string().max(2000).default('');

export const PlanAnswersJson = z
  .object({
    product: z.string().max(2000),
    polymers: z.array(z.enum(POLYMER_GROUPS)).default([]),
    act: z.enum(ACTS),
    act_words: words,
    minutes: z.number(),
    matrix: z.enum(MATRICES),
    liquid_words: words,
    volume_ml: z.number(),
    matrix_g: z.number().default(0).describe('Wet mass of food or other matrix in one run; 0: none.'),
    hottest_c: z.number(),
    seeing: z.enum(SEEING),
    needle: z.boolean().default(false),
    setting: z.enum(SETTINGS),
    equipment: z.array(z.enum(EQUIPMENT)).default([]),
    pieces: z.number(),
    mass_g: z.number(),
    unit: z.enum(ANSWER_UNITS),
    hours: z.number(),
    sessions: z.number(),
    person: words,
    place: words,
    safety: z.partialRecord(z.enum(SAFETY_FIELDS), z.string().max(2000)).default({}),
    changed: z
      .object({
        size_from_um: z.number(),
        specimens: z.number(),
        controls: z.number(),
        blanks: z.number(),
        spikes: z.number(),
        reagent: z.enum(REAGENTS),
        pore_um: z.number(),
        filter: z.string().max(200),
        background: z.number().min(0).max(1000),
        release_per_gram: z.number().min(0),
      })
      .partial()
      .default({})
      .describe('What is wanted otherwise than the plan proposes.'),
  })
  .meta({ id: 'PlanAnswers' });
export type PlanAnswersJson = z.infer<typeof PlanAnswersJson>;

export const PlanLimitsAnswer = z
  .object({
    smallest_seen_per_gram: z.number().nullable(),
    limit_per_gram: z.number().nullable(),
    sentence: z.string(),
    assumes: z.string(),
  })
  .meta({ id: 'PlanLimits' });
export type PlanLimitsAnswer = z.infer<typeof PlanLimitsAnswer>;

export const PlannedStudyWish = z
  .object({ name: z.string().max(1000), answers: PlanAnswersJson })
  .meta({ id: 'PlannedStudyWish' });
export type PlannedStudyWish = z.infer<typeof PlannedStudyWish>;

export const StudyPlanJson = z
  .object({
    planned: z.boolean().describe('False: this study was begun without a plan.'),
    runs: z.array(
      z.object({
        name: z.string(),
        kind: z.enum(RUN_KINDS),
        edition: z.string(),
        procedure: z.string(),
        specimen: z.string().nullable(),
        session: z.string(),
        order: z.int().min(1),
        because: z.string(),
        run: z.string().nullable().describe('Id of the run recorded under this name; null: still to do.'),
      }),
    ),
    controls: z.object({
      causes: z.array(z.string()).describe('What can bring particles in this study, in words.'),
      have: z.array(z.object({ called: z.string(), number: z.int(), buys: z.string() })),
      tangled: z.int().min(0).describe('Pairs of causes that no control done so far tells apart.'),
      next: z
        .object({ called: z.string(), how: z.string(), buys: z.string() })
        .nullable()
        .describe('The one more control that tells most apart for its work.'),
      best: z
        .array(z.object({ called: z.string(), how: z.string(), buys: z.string(), done: z.boolean() }))
        .describe('The smallest set that tells every cause apart.'),
    }),
    cautions: z.array(z.string()),
    safety: SafetyJson,
  })
  .meta({ id: 'StudyPlan' });
export type StudyPlanJson = z.infer<typeof StudyPlanJson>;
