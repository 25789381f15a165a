import { z } from 'zod';
import { CONTROL_KINDS } from '../study/index.ts';
import { ClaimJson } from './claim.ts';
import { CountJson } from './runs.ts';

export const PLACES = ['question', 'procedure', 'runs', 'filters', 'evidence', 'claim'] as const;

/** One dot of the picture "runs against background". */
export const StandingPoint = z
  .object({
    run: z.string(),
    name: z.string(),
    kind: z.enum(['specimen-run', ...CONTROL_KINDS]),
    mass_g: z.number().positive().nullable(),
    passed: z.number().min(0).max(1),
    examined: z.number().min(0).max(1),
    count: CountJson,
    background_from: z.boolean(),
  })
  .meta({ id: 'StandingPoint' });
export type StandingPoint = z.infer<typeof StandingPoint>;

/** One thing that holds the claim back, and the place where it is mended. */
export const HeldBack = z
  .object({
    why: z.string(),
    message: z.string(),
    place: z.enum(PLACES),
    run: z.string().nullable(),
    filter: z.string().nullable(),
    photo: z.string().nullable(),
  })
  .meta({ id: 'HeldBack' });
export type HeldBack = z.infer<typeof HeldBack>;

const NamedSpecimen = z.object({ id: z.string(), name: z.string() });

export const StandingJson = z
  .object({
    study: z.string(),
    specimen: NamedSpecimen.nullable().describe('What the claim is about; null before any run was recorded.'),
    claim: ClaimJson,
    comparisons: z
      .array(z.object({ specimen: NamedSpecimen, claim: ClaimJson }))
      .describe('Claims about the other specimens of the study.'),
    points: z.array(StandingPoint),
    withdrawn: z
      .object({ runs: z.int(), after_count: z.int() })
      .describe(
        'Runs that are in no figure, and how many of them were withdrawn after their counts could be read.',
      ),
    held_back: z.array(HeldBack),
  })
  .meta({ id: 'Standing' });
export type StandingJson = z.infer<typeof StandingJson>;
