/** The bench as it travels: what a telephone needs to carry out a run alone for a while, and the taps that it sends back. */
import { z } from 'zod';
import {
  type BenchTap,
  CONTROL_KINDS,
  type ControlSteps,
  type Deviation,
  FATES,
  FRACTION_KINDS,
  type OpenDish,
  type Step,
  type TapDeed,
  type Tolerances,
} from '../study/index.ts';
import { RefusalJson } from './refusal.ts';
import { FilterWish } from './run-records.ts';

/** Records as they are kept: a device reckons with them by the same rules as the laboratory. */
const anyRecord = z.looseObject({});
const asKept = <T>(says: string): z.ZodType<T> => anyRecord.describe(says) as unknown as z.ZodType<T>;

const StepAsKept = asKept<Step>(
  'A step as its edition keeps it: key, kind, quantities, touches, minutesUncovered.',
);
const ControlAsKept = asKept<ControlSteps>('A control with the steps that it really went through.');
const DeviationAsKept = asKept<Deviation>('A deviation that stands.');
const DeedAsKept = asKept<TapDeed>(
  'What was tapped: do (begin, start, finish, uncover, cover, exposure, otherwise, lay-filter, volume-mark, filtered, fraction, note, end, undo) and its facts.',
);

export const TapJson: z.ZodType<BenchTap & { readonly by: string | null }> = z
  .object({
    id: z.string(),
    device: z.string(),
    number: z.int(),
    deed: DeedAsKept,
    refusal: RefusalJson.nullable().describe('Why it changed nothing; it is kept as typed.'),
    at: z.string(),
    by: z.string().nullable(),
  })
  .meta({ id: 'Tap' }) as never;

export const TapsWish = z
  .object({
    taps: z
      .array(
        z.object({
          id: z.string().max(60),
          run: z.string().max(60),
          device: z.string().max(60),
          number: z.int(),
          deed: anyRecord,
          at: z.string().max(40),
        }),
      )
      .min(1)
      .max(200)
      .describe('In the order in which they were made.'),
  })
  .meta({ id: 'TapsWish' });
export type TapsWish = z.infer<typeof TapsWish>;

export const TapsAnswer = z
  .object({
    taps: z.array(
      z.object({
        id: z.string(),
        state: z
          .enum(['done', 'known', 'without-effect', 'not-kept'])
          .describe(
            'without-effect: kept as typed, changed nothing; not-kept: the device must hold on to it.',
          ),
        refusal: RefusalJson.nullable(),
      }),
    ),
  })
  .meta({ id: 'TapsAnswer' });
export type TapsAnswer = z.infer<typeof TapsAnswer>;

export const FractionJson = z
  .object({
    id: z.string(),
    kind: z.enum(FRACTION_KINDS),
    volume_ml: z.number(),
    place: z.string(),
    fate: z.enum(FATES),
    note: z.string(),
  })
  .meta({ id: 'Fraction' });
export type FractionJson = z.infer<typeof FractionJson>;

export const SetupPhotoJson = z
  .object({
    id: z.string(),
    run: z.string(),
    step: z.string().nullable(),
    name: z.string(),
    note: z.string(),
    width_px: z.int(),
    height_px: z.int(),
    added_at: z.string(),
  })
  .meta({ id: 'SetupPhoto' });
export type SetupPhotoJson = z.infer<typeof SetupPhotoJson>;

export const RunSheetAnswer = z
  .object({
    run: z.object({
      id: z.string(),
      name: z.string(),
      kind: z.enum(['specimen-run', ...CONTROL_KINDS]),
      study: z.string(),
      order: z.int(),
      session: z.string(),
      on: z.string(),
      by: z.string().nullable(),
      note: z.string(),
      specimen: z.string().nullable(),
      portion: z.object({ name: z.string(), mass_g: z.number() }).nullable(),
      code: z.string().describe('As on its label.'),
    }),
    study: z.string().describe('Name of the study.'),
    edition: z.object({ id: z.string(), label: z.string(), steps: z.array(StepAsKept) }),
    deviations: z.array(DeviationAsKept),
    taps: z.array(TapJson),
    fractions: z.array(FractionJson),
    filters: z.array(
      z.object({
        id: z.string(),
        name: z.string(),
        pore_um: z.number(),
        effective_diameter_mm: z.number(),
        code: z.string(),
      }),
    ),
    last_filter: FilterWish.nullable(),
    setup_photos: z.array(SetupPhotoJson),
    covering: z
      .object({
        controls: z.array(ControlAsKept),
        product: z.array(z.string()),
        tolerances: asKept<Tolerances>('How far apart two steps may be and still be the same.').nullable(),
      })
      .describe('What the run is compared with, so that a device can grade it at once.'),
    dishes: z.array(asKept<OpenDish>('An open dish with its count and its minutes.')),
    confidence: z.number(),
    smallest_um: z.number(),
  })
  .meta({ id: 'RunSheet' });
export type RunSheetAnswer = z.infer<typeof RunSheetAnswer>;

export const BenchRunJson = z
  .object({
    run: z.string(),
    order: z.int(),
    session: z.string(),
    state: z.enum(['planned', 'under-way', 'done']),
    clogged: z.boolean(),
    steps_done: z.int(),
    steps: z.int(),
    deviations: z.array(z.object({ id: z.string(), what: z.string(), why: z.string() })),
    coverage: z
      .object({
        grade: z.enum(['same', 'scaled', 'unknown', 'different', 'missing']).describe('The gravest step.'),
        mend: z
          .string()
          .nullable()
          .describe(
            'What brings the run back into the amount; null: a control serves it, or there is none at all.',
          ),
        gaps: z.array(
          z.object({
            sentence: z.string(),
            closed_by: z.string(),
            grade: z.enum(['missing', 'different', 'unknown']),
          }),
        ),
      })
      .nullable()
      .describe('Of specimen runs; null for controls.'),
    uncovered: z.object({
      minutes: z.number(),
      measured_min: z.number(),
      openings: z.int(),
      not_said: z.array(z.string()),
    }),
    deposition: z
      .object({
        expected: z.number(),
        lower: z.number(),
        upper: z.number(),
        confidence: z.number(),
        from: z.string(),
      })
      .nullable(),
    deposition_refusal: RefusalJson.nullable(),
    balance: z.object({
      in_ml: z.number().nullable(),
      out_ml: z.number(),
      missing_ml: z.number().nullable(),
      agrees: z.boolean(),
      sentence: z.string(),
    }),
    fractions: z.array(FractionJson),
    problems: z.array(z.string()),
    stops: z.array(z.string()).describe('What must not meet in its steps as they are done.'),
    cautions: z
      .array(z.string())
      .describe('Usual cautions at its steps; what comes before them stands first.'),
    code: z.string(),
  })
  .meta({ id: 'BenchRun' });
export type BenchRunJson = z.infer<typeof BenchRunJson>;

export const BenchAnswer = z
  .object({
    runs: z.array(BenchRunJson).describe('In the order in which they are carried out.'),
    order: z
      .object({ seed: z.number(), method: z.string(), at: z.string(), by: z.string().nullable() })
      .nullable()
      .describe('How the order was drawn; null: as entered.'),
  })
  .meta({ id: 'Bench' });
export type BenchAnswer = z.infer<typeof BenchAnswer>;

export const LABELLED = ['run', 'filter', 'remainder', 'vessel', 'specimen'] as const;
export const LabelJson = z
  .object({
    code: z.string(),
    what: z.enum(LABELLED),
    name: z.string(),
    lines: z.array(z.string()),
    path: z.string().describe('Where it opens in the application.'),
  })
  .meta({ id: 'Label' });
export type LabelJson = z.infer<typeof LabelJson>;
export const LabelsAnswer = z
  .object({ study: z.string(), labels: z.array(LabelJson) })
  .meta({ id: 'Labels' });
export type LabelsAnswer = z.infer<typeof LabelsAnswer>;
