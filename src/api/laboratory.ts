import { z } from 'zod';
import { CLAIM_STATES } from '../study/index.ts';

export const LaboratoryJson = z
  .object({
    name: z.string(),
    version: z.string().describe('Version of Retentate that serves this laboratory.'),
    demonstration: z.boolean().describe('True where the laboratory holds invented data; every page says so.'),
    prints: z.boolean().describe('Whether reports can be had as PDF: a Chromium is on the serving machine.'),
    finder: z.object({ method: z.string(), version: z.string() }),
  })
  .meta({ id: 'Laboratory' });
export type LaboratoryJson = z.infer<typeof LaboratoryJson>;

export const StudyBriefJson = z
  .object({
    id: z.string(),
    name: z.string(),
    demonstration: z.boolean(),
    question: z.string().describe('The question in one sentence.'),
    claim_state: z.enum(CLAIM_STATES),
    claim_sentence: z.string(),
    runs: z.int().min(0),
    controls: z.int().min(0),
    photos: z.int().min(0),
  })
  .meta({ id: 'StudyBrief' });
export type StudyBriefJson = z.infer<typeof StudyBriefJson>;

export const ToScoreJson = z
  .object({
    id: z.string(),
    name: z.string(),
    demonstration: z.boolean(),
    rounds: z.array(
      z.object({
        id: z.string(),
        name: z.string(),
        locked: z.boolean(),
        done: z.int().min(0).describe('Pictures that they have read.'),
        of: z.int().min(0).describe('Pictures that are theirs to read; 0: not yet needed.'),
      }),
    ),
  })
  .meta({ id: 'ToScore' });

export const StudiesAnswer = z
  .object({
    studies: z
      .array(StudyBriefJson)
      .describe('None for whoever scores alone: what a study shows would tell them what to expect.'),
    to_score: z
      .array(ToScoreJson)
      .describe('For whoever scores alone: studies by name, with the rounds in which they score. Else none.'),
  })
  .meta({ id: 'Studies' });
export type StudiesAnswer = z.infer<typeof StudiesAnswer>;

export const QuestionJson = z
  .object({
    sentence: z.string(),
    product: z.string(),
    act: z.string(),
    duration: z.string(),
    liquid: z.string(),
    size_from_um: z.number().min(0),
    size_to_um: z.number().min(0).nullable().describe('Null: no upper end.'),
    unit: z.string(),
    counts_as_microplastic: z.string(),
    decision_rule: z.string(),
  })
  .meta({ id: 'Question' });
export type QuestionJson = z.infer<typeof QuestionJson>;

export const StudyJson = StudyBriefJson.extend({ asked: QuestionJson }).meta({ id: 'Study' });
export type StudyJson = z.infer<typeof StudyJson>;
