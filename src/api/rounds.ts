/** Blinded rounds as they travel: nothing of the key before it is open. */
import { z } from 'zod';
import { CALLS, GUESSES } from '../study/index.ts';

const Share = z.object({ value: z.number(), lower: z.number(), upper: z.number() });
const Point = z.object({
  x: z.number().min(0).max(1),
  y: z.number().min(0).max(1),
  called: z.enum(CALLS),
  length: z.number().min(0).max(1).nullable().default(null).describe('End to end, in parts of the side.'),
});

export const RoundWish = z
  .object({
    name: z.string().max(120),
    what: z.enum(['pieces', 'fields']),
    scorers: z.array(z.string()).min(1).max(2),
    third: z.string().nullable().default(null),
    known_set: z.string().nullable().default(null),
    most_of_each: z.int().min(1).max(5000).nullable().default(null),
    decisive: z
      .boolean()
      .default(false)
      .describe('With a limit: the pieces on which the claim hangs most, not a draw by chance.'),
    guess_share: z.number().min(0).max(1).default(0.3),
    again_share: z.number().min(0).max(1).default(0.1),
  })
  .meta({ id: 'RoundWish' });
export type RoundWish = z.infer<typeof RoundWish>;

const ProgressJson = z.object({
  person: z.string(),
  name: z.string(),
  done: z.int(),
  of: z.int(),
  locked: z.boolean(),
});

const PartJson = z.object({ name: z.string(), pictures: z.int(), same: z.int() });
const Estimate = Share;

const AgreementJson = z.object({
  pictures: z.int(),
  same: z.int(),
  table: z.array(z.array(z.int())),
  kappa: Share.extend({ word: z.string() }).nullable(),
  robust: Share.nullable(),
  by_class: z.array(PartJson),
  by_size: z.array(PartJson),
  by_shape: z.array(PartJson),
  found: z.object({ first: z.int(), second: z.int(), both: z.int(), estimate: Estimate }),
});

const FieldsJson = z.object({
  fields: z.int(),
  first: z.int(),
  second: z.int(),
  both: z.int(),
  overlap: z.number().nullable(),
  estimate: Estimate,
  missed_by_both: z.number(),
  table: z.array(z.array(z.int())),
  robust: Share.nullable(),
  sizes: z
    .object({ pairs: z.int(), ratio: z.number(), lower: z.number(), upper: z.number() })
    .nullable()
    .describe('First scorer’s length over the second’s, and the limits that hold 95 % of pairs.'),
});

const TallyPair = z.object({ k: z.int(), n: z.int() });

/** What an opened key shows. */
export const OutcomeJson = z
  .object({
    agreement: AgreementJson.nullable(),
    fields: FieldsJson.nullable(),
    scorers: z.array(
      z.object({
        person: z.string(),
        name: z.string(),
        leak: z.object({
          guessed: z.int(),
          right: z.int(),
          p: z.number(),
          smallest: z.number(),
          leaked: z.boolean(),
        }),
        repeats: z.object({ pictures: z.int(), same: z.int() }),
        known_plastic: TallyPair,
        known_others: TallyPair,
      }),
    ),
    resolved: z.array(
      z.object({
        side: z.enum(['specimen', 'control']),
        plastic: z.int(),
        other: z.int(),
        undecided: z.int(),
      }),
    ),
    populations: z
      .array(
        z.object({
          what: z.enum(['size', 'shape', 'colour']),
          distance: z.number(),
          p: z.number(),
          adjusted: z.number(),
          smallest: z.number(),
        }),
      )
      .nullable(),
    key: z.array(
      z.object({
        code: z.string(),
        side: z.enum(['specimen', 'control', 'known']),
        run: z.string(),
        particle: z.int().nullable(),
        piece: z.string().nullable(),
        calls: z.array(z.enum(CALLS).nullable()),
        taken_for: z.enum(['plastic', 'other', 'undecided']).nullable(),
        how: z.enum(['agreed', 'alone', 'third', 'split']).nullable(),
      }),
    ),
  })
  .meta({ id: 'RoundOutcome' });
export type OutcomeJson = z.infer<typeof OutcomeJson>;

export const RoundJson = z
  .object({
    id: z.string(),
    name: z.string(),
    what: z.enum(['pieces', 'fields']),
    stage: z.enum(['scoring', 'third', 'ready', 'opened', 'taken-over', 'elsewhere']),
    pictures: z.int(),
    key_hash: z.string().describe('SHA-256 of the sealed key; the same before and after the opening.'),
    seed: z.number().nullable().describe('Null while sealed: the codes follow from it.'),
    known_slipped_in: z.boolean(),
    scorers: z.array(ProgressJson),
    third: ProgressJson.nullable(),
    predictions: z.array(z.object({ by: z.string(), at: z.string(), says: z.string() })),
    events: z.array(z.object({ deed: z.string(), by: z.string(), at: z.string(), says: z.string() })),
    working: z.string(),
    sealed_by: z.string(),
    at: z.string(),
    outcome: OutcomeJson.nullable().describe('Null while sealed.'),
  })
  .meta({ id: 'Round' });
export type RoundJson = z.infer<typeof RoundJson>;

export const ScoringJson = z
  .object({
    progress: z.object({ done: z.int(), of: z.int(), locked: z.boolean() }),
    card: z
      .object({
        code: z.string(),
        what: z.enum(['pieces', 'fields']),
        pass: z.union([z.literal(1), z.literal(2)]),
        guess: z.boolean(),
        width_um: z.number().nullable(),
        place: z.int().positive(),
        of: z.int().positive(),
        before: z
          .object({
            called: z.enum(CALLS).nullable(),
            points: z.array(Point).nullable(),
            guess: z.enum(GUESSES).nullable(),
          })
          .nullable(),
      })
      .nullable()
      .describe('Null when all is read, locked, or not yet yours to read.'),
    next_code: z.string().nullable().describe('The picture after it, so that it can be fetched ahead.'),
  })
  .meta({ id: 'Scoring' });
export type ScoringJson = z.infer<typeof ScoringJson>;

export const ReadingWish = z
  .object({
    code: z.string().max(12),
    pass: z.union([z.literal(1), z.literal(2)]),
    called: z.enum(CALLS).nullable().default(null),
    points: z.array(Point).max(500).nullable().default(null),
    guess: z.enum(GUESSES).nullable().default(null),
  })
  .meta({ id: 'ReadingWish' });
export type ReadingWish = z.infer<typeof ReadingWish>;

export const PredictionWish = z.object({ says: z.string().max(4000) }).meta({ id: 'PredictionWish' });
export type PredictionWish = z.infer<typeof PredictionWish>;
export const OpenWish = z.object({ without_third: z.boolean().default(false) }).meta({ id: 'OpenWish' });
export type OpenWish = z.infer<typeof OpenWish>;
export const TakenOverJson = z
  .object({ kept: z.int(), dropped: z.int(), undecided: z.int(), gone: z.int() })
  .meta({ id: 'TakenOver' });
