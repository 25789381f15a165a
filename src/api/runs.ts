import { z } from 'zod';
import { CONTROL_KINDS } from '../study/index.ts';

/**
 * A count is three different things, never one: `counted` (with its number, which may be none seen),
 * `not-looked` (no photo was searched), `not-judged` (photos refused).
 */
export const CountJson = z
  .discriminatedUnion('state', [
    z.object({ state: z.literal('counted'), count: z.int().min(0), undecided: z.int().min(0) }),
    z.object({ state: z.literal('not-looked') }),
  ])
  .meta({ id: 'Count' });
export type CountJson = z.infer<typeof CountJson>;

export const RunJson = z
  .object({
    id: z.string(),
    name: z.string(),
    kind: z.enum(['specimen-run', ...CONTROL_KINDS]),
    on: z.string().nullable().describe('Day of the run, year-month-day.'),
    operator: z.string().nullable(),
    specimen: z.string().nullable(),
    portion: z.object({ name: z.string(), mass_g: z.number().positive() }).nullable(),
    edition: z.string().nullable(),
    passed: z
      .number()
      .min(0)
      .max(1)
      .describe(
        'Share of the liquid that passed filters that were looked at; 1 where it is not recorded (a remark says so).',
      ),
    examined: z.number().min(0).max(1).describe('Fraction of the filter that was photographed and searched.'),
    count: CountJson,
    added: z.int().min(0).nullable().describe('Known pieces put in, for a spiked run.'),
    recovered: z
      .int()
      .min(0)
      .nullable()
      .describe(
        'Of those put in, how many were found; null: no spiked run, or not looked. Other pieces count, and are not among them.',
      ),
    background_from: z.boolean().describe('True where this control is part of the background.'),
    judged: z
      .boolean()
      .describe('False for a specimen run that no control matches: it is left out of the claim.'),
    remarks: z.array(z.string()).describe('Deviations, kept remainders and what else a reader must know.'),
    filters: z.array(z.string()).describe('Ids of the filters of this run.'),
  })
  .meta({ id: 'Run' });
export type RunJson = z.infer<typeof RunJson>;

export const RunsAnswer = z.object({ runs: z.array(RunJson) }).meta({ id: 'Runs' });
export type RunsAnswer = z.infer<typeof RunsAnswer>;
