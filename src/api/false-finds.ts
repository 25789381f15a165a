/** Contract `retentate/false-finds/1`: false finds on blank photographs of one membrane, by the setting asked for. */
import { z } from 'zod';
import {
  countInterval,
  type FalseFindRate,
  type SettingThatHolds,
  settingThatHolds,
} from '../science/counting/index.ts';
import { DROPPED_ARE } from '../study/index.ts';
import { RefusalJson } from './refusal.ts';
import { RunJson } from './runs.ts';
import { SearchWish } from './search-settings.ts';

export const FalseFindsJson = z
  .object({
    format: z.literal('retentate/false-finds/1'),
    method: z.object({ name: z.string(), version: z.string() }),
    wanted: z.number().positive().describe('False finds a blank photograph that are acceptable.'),
    smallest_um: z.number().positive().nullable(),
    confidence: z.number().gt(0).lt(1),
    photographs: z.int().positive(),
    searched: z.number().positive().describe('Whole photographs that the searched shares make together.'),
    rates: z
      .array(
        z.object({
          asked: z.number().positive(),
          false_finds: z.int().min(0),
          undecided: z.int().min(0).describe('Finds that nobody has decided on: the rate is a range.'),
          least: z.number().min(0).describe('False finds a photograph were no undecided find false.'),
          most: z.number().min(0).describe('The same were all of them false.'),
          lower: z.number().min(0),
          upper: z.number().min(0),
          scatter_p: z
            .number()
            .min(0)
            .max(1)
            .nullable()
            .describe('Small: the photographs differ, and the interval is too narrow.'),
        }),
      )
      .describe('From the strictest setting on.'),
    ask: z.number().positive().nullable().describe('The setting to ask for; null: `because` says why.'),
    because: z.string().nullable(),
  })
  .meta({ id: 'FalseFinds' });
export type FalseFindsJson = z.infer<typeof FalseFindsJson>;

export const LearningWish = z
  .object({
    filters: z
      .array(z.uuid())
      .min(1)
      .max(1000)
      .describe('Filters of controls whose photographs are searched.'),
    wanted: SearchWish.shape.false_finds_per_blank,
    dropped_are: z.enum(DROPPED_ARE).describe('What the dropped pieces of these controls were.'),
  })
  .meta({ id: 'LearningWish' });
export type LearningWish = z.infer<typeof LearningWish>;

export const FalseFindsAnswer = z
  .object({
    under_way: z
      .object({ done: z.int().min(0), of: z.int().min(0) })
      .nullable()
      .describe('Searches; further settings follow where they are needed.'),
    busy_elsewhere: z.boolean(),
    refusal: RefusalJson.nullable().describe(
      'Why the last one since the server started ended without a result.',
    ),
    controls: z.array(
      z.object({
        filter: z.string(),
        name: z.string(),
        run: z.string(),
        kind: RunJson.shape.kind,
        photographs: z.int().positive(),
        barest: z.boolean().describe('Nothing of the product or its act reaches it.'),
      }),
    ),
    measured: FalseFindsJson.extend({
      at: z.string(),
      dropped_are: z.enum(DROPPED_ARE),
      by: z.string(),
      outdated: z.string().nullable().describe('Why it says nothing of how photographs are searched now.'),
    }).nullable(),
  })
  .meta({ id: 'FalseFindsOfStudy' });
export type FalseFindsAnswer = z.infer<typeof FalseFindsAnswer>;

export interface FalseFindsGiven {
  readonly method: string;
  readonly version: string;
  readonly wanted: number;
  readonly smallestUm: number | null;
  readonly confidence: number;
  readonly rates: readonly FalseFindRate[];
}

/** What was measured, and what to ask for, as it travels. */
export function falseFindsJson(given: FalseFindsGiven): FalseFindsJson {
  const holds = settingThatHolds(given.rates, given.wanted);
  const [first] = given.rates;
  return {
    format: 'retentate/false-finds/1',
    method: { name: given.method, version: given.version },
    wanted: given.wanted,
    smallest_um: given.smallestUm,
    confidence: given.confidence,
    photographs: first!.photographs,
    searched: first!.exposure,
    rates: given.rates
      .toSorted((a, b) => a.asked - b.asked)
      .map(({ asked, falseFinds, undecided, least, most, scatterP }) => ({
        asked,
        false_finds: falseFinds,
        undecided,
        least: least.value,
        most: most.value,
        lower: least.lower,
        upper: most.upper,
        scatter_p: scatterP,
      })),
    ask: holds.told ? holds.ask : null,
    because: holds.told ? null : whyNot(holds, given, first!.photographs),
  };
}

function whyNot(
  holds: Exclude<SettingThatHolds, { readonly told: true }>,
  { wanted, confidence }: FalseFindsGiven,
  photographs: number,
): string {
  if (holds.why === 'none-holds') {
    return `Even at ${holds.strictest}, the strictest setting, this membrane gives more than ${wanted} false finds a photograph: accept more, take better light, or ask for larger pieces only.`;
  }
  const several = photographs === 1 ? 'one photograph' : `${photographs} photographs`;
  const twoSided = countInterval(0, confidence).upper;
  return `Cannot be told from ${several}: none found on n whole photographs only shows a rate below 3.0/n (one-sided 95 %; two-sided ${twoSided.toFixed(1)}/n), here ${holds.showsBelow.toPrecision(2)}. For ${wanted} at least ${holds.needed} are needed.`;
}
