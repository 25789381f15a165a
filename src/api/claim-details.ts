/** What lies behind a claim, as it travels (`retentate/claim-details/1`). A null number always has its reason beside it. */
import { z } from 'zod';
import { IntervalJson, RobustnessJson, SizesJson } from './claim.ts';
import { OwnFalseFindsJson } from './own-false-finds.ts';
import { CountJson } from './runs.ts';

const span = IntervalJson.nullable();

/** A counted piece: where it can be looked at. */
export const PieceRefJson = z
  .object({
    particle: z.string(),
    photo: z.string(),
    filter: z.string().nullable(),
    run: z.string(),
    number: z.int(),
    size_um: z.number(),
    decided: z.boolean().describe('False: found by the program and looked at by nobody yet.'),
  })
  .meta({ id: 'PieceRef' });
export type PieceRefJson = z.infer<typeof PieceRefJson>;

export const CategoryJson = z
  .object({
    path: z.array(z.string()).describe('From the coarsest name to the finest; empty: all.'),
    cells: z.array(z.array(z.string())).describe('More than one: cells too small to stand alone, pooled.'),
    specimens: z.int(),
    controls: z.int(),
    expected: z.number().describe('What the controls let expect on the specimens’ side.'),
    net: z.number().describe('Below 0 where the controls hold more; never cut off.'),
    net_per_gram: IntervalJson,
    negative: z.boolean(),
    on_specimens: z.array(PieceRefJson).describe('Some of them, to look at.'),
    on_controls: z.array(PieceRefJson),
  })
  .meta({ id: 'Category' });
export type CategoryJson = z.infer<typeof CategoryJson>;

/** What was looked at of one run: passed × photographed × counted. */
export const LookedJson = z
  .object({
    run: z.string(),
    name: z.string(),
    kind: z.string(),
    side: z.enum(['specimens', 'controls', 'spiked', 'aside']),
    passed: z
      .number()
      .nullable()
      .describe('Null: how much of the liquid passed is not recorded, or nothing was looked at.'),
    examined: z.number().nullable().describe('Null: nothing of it was looked at.'),
    stands_for: z.number().nullable().describe('Passed × examined; null: nothing was looked at.'),
    uncertainty: z
      .object({
        passed: z.number().nullable(),
        photographed: z.number().nullable(),
        counted: z.number().nullable(),
        together: z.number(),
      })
      .nullable()
      .describe('Relative standard uncertainties; null within: nothing to tell it from.'),
    count: CountJson,
    kept: z.int(),
    undecided: z.int(),
    dropped: z.int(),
    floor_um: z.number().nullable(),
    filters: z.array(z.string()),
  })
  .meta({ id: 'Looked' });
export type LookedJson = z.infer<typeof LookedJson>;

export const ComparisonJson = z
  .object({
    kind: z.enum(['ratio', 'pairs', 'dose', 'several']),
    title: z.string(),
    sentence: z.string(),
    value: z.number().nullable(),
    lower: z.number().nullable(),
    upper: z.number().nullable().describe('Null beside a value: no upper end can be given.'),
    confidence: z.number().nullable(),
    p: z.number().nullable(),
    unit: z.string(),
    refusal: z.string().nullable(),
    source: z.string(),
  })
  .meta({ id: 'Comparison' });
export type ComparisonJson = z.infer<typeof ComparisonJson>;

const refusal = z.string().nullable().describe('Why it is null.');

export const ClaimDetailsJson = z
  .object({
    format: z.literal('retentate/claim-details/1'),
    study: z.string(),
    specimen: z.object({ id: z.string(), name: z.string() }),
    specimens: z.array(z.object({ id: z.string(), name: z.string() })),
    size_from_um: z.number(),
    confidence: z.number(),
    background: z.string().nullable().describe('Kind of control that gave it.'),
    categories: z
      .object({ scheme: z.string(), source: z.string(), rows: z.array(CategoryJson), total: CategoryJson })
      .nullable(),
    categories_refusal: refusal,
    sizes: SizesJson.nullable(),
    sizes_refusal: refusal,
    looked: z.array(LookedJson),
    false_finds: z
      .array(
        z.object({
          asked: z.number().positive(),
          photographs: z.int().positive(),
          own: OwnFalseFindsJson.nullable().describe('Null: not measured for this way of searching.'),
        }),
      )
      .describe('How photographs were searched, and what that gave on the study’s own controls.'),
    mass: z
      .object({
        micrograms: IntervalJson,
        pieces: z.int(),
        left_out: z.int(),
        top_five: z.number(),
        density_from: z.number(),
        density_to: z.number(),
      })
      .nullable(),
    mass_refusal: refusal,
    mass_balance: z
      .object({
        runs: z.array(z.string()).describe('Names of the judged runs that were weighed before and after.'),
        not_weighed: z.array(z.string()),
        shed_ug: IntervalJson.describe('Net per gram × grams of these runs × mean mass of a counted piece.'),
        loss_ug: z
          .object({ value: z.number(), lower: z.number(), upper: z.number() })
          .describe('± two standard uncertainties.'),
        verdict: z.enum(['more than was lost', 'within what was lost', 'balance cannot tell']),
        share: z
          .number()
          .nullable()
          .describe('Shed over lost; null: the balance cannot tell the loss from none.'),
        message: z.string(),
      })
      .nullable(),
    mass_balance_refusal: refusal,
    robustness: RobustnessJson,
    comparisons: z.array(ComparisonJson),
    drill: z
      .object({
        test: z.string().describe('Whose errors they are: by-eye, or a bench test.'),
        true_kept: IntervalJson,
        others_kept: IntervalJson,
      })
      .nullable(),
    natural_kept: span,
    recovery: span,
    recovery_used: span.describe(
      'By the sizes of what was counted and with its scatter between runs, as the model takes it.',
    ),
    recovery_by_size: z.array(
      z.object({
        name: z.string(),
        found: z.int(),
        added: z.int(),
        recovery: IntervalJson,
        on_specimens: z.int().describe('Counted pieces that are nearest to this size.'),
        on_controls: z.int(),
      }),
    ),
    spikes: z.array(
      z.object({
        run: z.string(),
        name: z.string(),
        found: z.int(),
        added: z.int(),
        serves: z.boolean().describe('False: it went another way than the runs, and is left out.'),
      }),
    ),
    history: z.array(
      z.object({
        study: z.string(),
        kind: z.string(),
        serves: z
          .boolean()
          .describe('Of the kind that gives the background: it tells how much controls scatter.'),
        runs: z.array(z.object({ name: z.string(), count: z.int(), stands_for: z.number() })),
      }),
    ),
  })
  .meta({ id: 'ClaimDetails' });
export type ClaimDetailsJson = z.infer<typeof ClaimDetailsJson>;
