/** What is written down to make runs, filters and the places of photographs. */
import { z } from 'zod';
import { CONTROL_KINDS, FATES, FRACTION_KINDS, MASSES, RETURNING } from '../study/index.ts';
import { CountJson } from './runs.ts';

const words = z.string().max(10_000);
const anId = z.string().max(60);

export const SpikeWish = z
  .object({
    added: z.number().describe('Known pieces put in.'),
    colour: words,
    material: words.default(''),
    size_um: z.number().nullable().default(null),
  })
  .meta({ id: 'SpikeWish' });

export const WeighedWish = z
  .object({
    specimen: anId,
    mass_g: z.number(),
    mass_is: z.enum(MASSES).default('product-before'),
    pieces: z.number().nullable().default(null),
  })
  .meta({ id: 'WeighedWish', description: 'A portion weighed now, entered together with its run.' });

export const RunWishJson = z
  .object({
    name: words,
    kind: z.enum(['specimen-run', ...CONTROL_KINDS]),
    edition: anId,
    portion: anId.nullable().default(null),
    weighed: WeighedWish.nullable().default(null),
    spike: SpikeWish.nullable().default(null),
    on: words.describe('Day of the run, year-month-day.'),
    session: words.default('1'),
    order: z.number().optional(),
    by: anId.optional().describe('Id of the person; left out: who asks.'),
    note: words.default(''),
  })
  .meta({ id: 'RunWish' });
export type RunWishJson = z.infer<typeof RunWishJson>;

export const RunsWish = z
  .object({ runs: z.array(RunWishJson).min(1).max(200) })
  .meta({ id: 'RunsWish', description: 'All are entered or none.' });
export type RunsWish = z.infer<typeof RunsWish>;

export const RunsMade = z
  .object({ runs: z.array(z.object({ id: z.string(), name: z.string(), order: z.int() })) })
  .meta({ id: 'RunsMade' });
export type RunsMade = z.infer<typeof RunsMade>;

export const FilterWish = z
  .object({
    name: words,
    material: words.default(''),
    pore_um: z.number(),
    effective_diameter_mm: z.number().describe('Of the disc that liquid passed through.'),
    pitch_mm: z.number().nullable().default(null).describe('Null: no print.'),
    lot: words.default(''),
    fraction: anId.nullable().default(null),
    examined_stated: z.number().nullable().default(null),
    note: words.default(''),
  })
  .meta({ id: 'FilterWish' });
export type FilterWish = z.infer<typeof FilterWish>;

export const FractionWish = z
  .object({
    kind: z.enum(FRACTION_KINDS),
    volume_ml: z.number(),
    place: words.default(''),
    fate: z.enum(FATES),
    note: words.default(''),
  })
  .meta({ id: 'FractionWish' });
export type FractionWish = z.infer<typeof FractionWish>;

export const WeighingWish = z
  .object({
    stands: z.boolean().default(true).describe('False: taken back.'),
    before_g: z.number(),
    after_g: z.number(),
    uncertainty_g: z.number().describe('Standard uncertainty of one weighing.'),
    note: words.default(''),
  })
  .meta({ id: 'WeighingWish', description: 'The product of a specimen run, before it and after it.' });
export type WeighingWish = z.infer<typeof WeighingWish>;

export const WeighingsAnswer = z
  .object({
    weighings: z.array(
      z.object({
        run: z.string(),
        before_g: z.number(),
        after_g: z.number(),
        uncertainty_g: z.number(),
        note: z.string(),
        by: z.string(),
        at: z.string(),
      }),
    ),
  })
  .meta({ id: 'Weighings', description: 'Only runs of which somebody weighed the product.' });
export type WeighingsAnswer = z.infer<typeof WeighingsAnswer>;

export const WithdrawWish = z
  .object({ what: z.enum(['deviation', 'fraction', 'filter']), subject: anId, why: words.default('') })
  .meta({ id: 'WithdrawWish' });
export type WithdrawWish = z.infer<typeof WithdrawWish>;

export const ReturningWish = z
  .object({
    what: z.enum(RETURNING),
    subject: anId,
    withdrawn: z.boolean().describe('False: put back.'),
    why: z.string().describe('Never empty: what is left out in silence would be picked.'),
  })
  .meta({ id: 'ReturningWish' });
export type ReturningWish = z.infer<typeof ReturningWish>;

export const WithdrawnAnswer = z
  .object({
    withdrawn: z.array(
      z.object({
        what: z.enum(RETURNING),
        subject: z.string(),
        name: z.string(),
        why: z.string(),
        by: z.string(),
        at: z.string(),
        count_open: z.boolean().describe('What it counted could be read when it was withdrawn.'),
        runs: z.array(z.object({ id: z.string(), name: z.string(), count: CountJson })),
      }),
    ),
  })
  .meta({
    id: 'Withdrawn',
    description:
      'What is withdrawn now, and the runs that are in no figure for it, each with what it counts.',
  });
export type WithdrawnAnswer = z.infer<typeof WithdrawnAnswer>;

export const OrderWish = z
  .object({ seed: z.number().describe('From 0 to 4294967295; the same seed gives the same order.') })
  .meta({ id: 'OrderWish' });
export type OrderWish = z.infer<typeof OrderWish>;

export const PlaceWish = z
  .object({
    square: z
      .tuple([z.int(), z.int()])
      .nullable()
      .describe('Column and row from the top left of the disc as drawn, from 0; null: the whole disc.'),
  })
  .meta({ id: 'PlaceWish' });
export type PlaceWish = z.infer<typeof PlaceWish>;

export const MoveWish = z
  .object({
    filter: z
      .string()
      .nullable()
      .describe('The filter it shows; null: set aside, and not looked at any more.'),
    why: z.string(),
  })
  .meta({ id: 'PhotoMoveWish' });
export type MoveWish = z.infer<typeof MoveWish>;

export const MovesAnswer = z
  .object({
    moves: z.array(
      z.object({
        photo: z.string(),
        name: z.string(),
        filter: z.string().nullable(),
        why: z.string(),
        by: z.string(),
        at: z.string(),
      }),
    ),
  })
  .meta({
    id: 'PhotoMoves',
    description: 'The latest word on each photograph that was moved or set aside; null: set aside.',
  });
export type MovesAnswer = z.infer<typeof MovesAnswer>;

export const PlacesAnswer = z
  .object({
    places: z.array(z.object({ photo: z.string(), square: z.tuple([z.int(), z.int()]).nullable() })),
  })
  .meta({ id: 'PhotoPlaces', description: 'Only photographs whose place somebody has said.' });
export type PlacesAnswer = z.infer<typeof PlacesAnswer>;

/** What there is to choose from when a run is entered. */
export const RunChoices = z
  .object({
    editions: z.array(z.object({ id: z.string(), label: z.string(), in_use: z.boolean() })),
    specimens: z.array(z.object({ id: z.string(), name: z.string() })),
    portions: z.array(z.object({ id: z.string(), label: z.string(), used_by: z.string().nullable() })),
    people: z.array(z.object({ id: z.string(), name: z.string() })),
    working: z.string(),
    sessions: z.array(z.string()),
    mass_is: z.enum(MASSES).describe('As the last portion was weighed.'),
    today: z.string(),
    last_filter: FilterWish.nullable().describe('The filter laid last, to begin from.'),
  })
  .meta({ id: 'RunChoices' });
export type RunChoices = z.infer<typeof RunChoices>;
