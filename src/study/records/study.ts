import { COLOURS, type Colour, SHAPES, type Shape } from '../../science/imaging/finding.ts';
import type { Fraction, Micrometres, Minutes } from '../../units/index.ts';
import type { PersonId } from './laboratory.ts';
import {
  aFraction,
  aName,
  aNote,
  anId,
  anInstant,
  type Id,
  type Instant,
  listOf,
  maker,
  notNegative,
  oneOf,
  orNull,
  positive,
  record,
  text,
  yesOrNo,
} from './rules.ts';

export type StudyId = Id<'study'>;

export const ANSWER_UNITS = ['particles per gram', 'particles per portion'] as const;
export type AnswerUnit = (typeof ANSWER_UNITS)[number];

/** When the answer counts as yes: fixed before the first count. */
export interface DecisionRule {
  readonly confidence: Fraction;
  /** The net figure, in the unit of the answer, that would matter; null: any release matters. */
  readonly matters: number | null;
}

export interface Question {
  readonly product: string;
  readonly act: string;
  readonly durationMin: Minutes | null;
  readonly liquid: string;
  /** Size is the maximum Feret diameter. */
  readonly sizeFromUm: Micrometres;
  /** Null: no upper end. */
  readonly sizeToUm: Micrometres | null;
  readonly unit: AnswerUnit;
  /** In words, for people; the two lists decide for the program (empty: all). */
  readonly countsAs: string;
  readonly shapes: readonly Shape[];
  readonly colours: readonly Colour[];
  readonly decision: DecisionRule;
}

export interface Study {
  readonly id: StudyId;
  readonly name: string;
  readonly invented: boolean;
  readonly question: Question;
  readonly madeAt: Instant;
  readonly by: PersonId;
}

export const makeStudy = maker<Study>(
  'study',
  {
    id: anId,
    name: aName,
    invented: yesOrNo,
    question: record<Question>({
      product: text(1, 300),
      act: text(1, 300),
      durationMin: orNull(notNegative),
      liquid: text(0, 300),
      sizeFromUm: positive,
      sizeToUm: orNull(positive),
      unit: oneOf(ANSWER_UNITS),
      countsAs: aNote,
      shapes: listOf(oneOf(SHAPES), SHAPES.length),
      colours: listOf(oneOf(COLOURS), COLOURS.length),
      decision: record<DecisionRule>({ confidence: aFraction, matters: orNull(positive) }),
    }),
    madeAt: anInstant,
    by: anId,
  },
  ({ question }) => {
    const { sizeFromUm, sizeToUm, decision } = question;
    if (sizeToUm !== null && sizeToUm <= sizeFromUm) {
      return {
        why: 'upside-down',
        message: `study, size in scope: it ends at ${sizeToUm} µm, which is not above its start at ${sizeFromUm} µm.`,
      };
    }
    if (decision.confidence < 0.5 || decision.confidence >= 1) {
      return {
        why: 'out-of-range',
        message: `study, confidence: a number from 0.5 to below 1 is needed; given ${decision.confidence}.`,
      };
    }
    return null;
  },
);
