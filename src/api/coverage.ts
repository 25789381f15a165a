/** Which controls repeat which steps of a run, what that leaves open, and what would close it. */
import { z } from 'zod';
import { CONTROL_KINDS } from '../study/index.ts';

const NamedRun = z.object({ id: z.string(), name: z.string() });
export const COVERAGE_STEP_GRADES = ['same', 'scaled', 'unknown', 'different', 'missing'] as const;
const grade = z.enum(COVERAGE_STEP_GRADES);

export const CoverageThreadJson = z
  .object({
    controls: z.array(NamedRun).describe('Control runs that did just this.'),
    kind: z.enum(CONTROL_KINDS),
    grades: z.array(grade).describe('One for each step of the run.'),
    serves: z.boolean().describe('True where its count may stand for the background of these runs.'),
    scale: z.number().min(1).describe('How many times its background is taken, where it had less.'),
    changes: z.array(z.string()).describe('What one more like it would have to do otherwise to serve.'),
  })
  .meta({ id: 'CoverageThread' });
export type CoverageThreadJson = z.infer<typeof CoverageThreadJson>;

export const CoverageGroupJson = z
  .object({
    runs: z.array(NamedRun).describe('Specimen runs that did the same.'),
    specimen: z.string().nullable(),
    steps: z.array(z.object({ key: z.string(), kind: z.string(), grade, repeated_by: z.array(z.string()) })),
    threads: z.array(CoverageThreadJson),
    judged: z.boolean().describe('False: no control matches, and these runs are left out of the claim.'),
    sentence: z.string(),
    mend: z
      .object({ kind: z.enum(CONTROL_KINDS), like: z.string(), with: z.array(z.string()) })
      .nullable()
      .describe(
        'The cheapest control that closes the gap: one more like the nearest, done otherwise as said.',
      ),
    open: z
      .array(
        z.object({
          explanation: z.string(),
          step: z.string(),
          grade,
          control: z
            .string()
            .describe('The cheapest control that tells this explanation apart from the others.'),
        }),
      )
      .describe('Explanations that no control of any kind tells apart yet.'),
  })
  .meta({ id: 'CoverageGroup' });
export type CoverageGroupJson = z.infer<typeof CoverageGroupJson>;

export const ComparisonRulesJson = z
  .object({
    uncovered_share: z.number().describe('Minutes uncovered: the same within this share of the longer …'),
    uncovered_minutes: z.number().describe('… or within so many minutes.'),
    scaled_up_to: z
      .number()
      .describe('A background is scaled up to this factor; beyond it a step is different.'),
    alike: z
      .array(z.array(z.string().max(400)).max(20))
      .max(100)
      .describe('Names that mean one thing in this study.'),
    because: z.string().max(10_000),
  })
  .meta({ id: 'ComparisonRules' });
export type ComparisonRulesJson = z.infer<typeof ComparisonRulesJson>;

export const CoverageAnswer = z
  .object({ groups: z.array(CoverageGroupJson), rules: ComparisonRulesJson })
  .meta({ id: 'Coverage' });
export type CoverageAnswer = z.infer<typeof CoverageAnswer>;

export const ClosingControlPlanned = z
  .object({ name: z.string(), edition: z.string(), because: z.string() })
  .meta({ id: 'ClosingControlPlanned' });
export type ClosingControlPlanned = z.infer<typeof ClosingControlPlanned>;
