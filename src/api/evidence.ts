/** What particles are and how often people err, as it travels. */
import { z } from 'zod';
import { COLOURS, SHAPES } from '../science/imaging/finding.ts';
import { CALLS, MATERIAL_CLASSES } from '../study/index.ts';
import { MarkedParticleJson } from './photos.ts';

const Share = z.object({ value: z.number(), lower: z.number(), upper: z.number() });
const who = { by: z.string(), at: z.string().describe('ISO 8601, UTC') };

export const TestAnswerJson = z
  .object({
    id: z.string(),
    particle: z.string(),
    number: z.int().positive(),
    test: z.string(),
    edition: z.int().positive(),
    value: z.union([z.string(), z.number()]),
    setting: z.string().nullable(),
    says: z.string(),
    plastic: z.enum(['for', 'against', 'nothing']),
    outside: z.string().nullable().describe('Why it counts as not tested; null: inside the test’s range.'),
    origin: z.enum(['bench', 'table']),
    pictures: z.array(z.string()),
    note: z.string(),
    undone: z.boolean(),
    ...who,
  })
  .meta({ id: 'TestAnswer' });
export type TestAnswerJson = z.infer<typeof TestAnswerJson>;

export const TestAnswerWish = z
  .object({
    test: z.string().max(60),
    value: z.union([z.string().max(120), z.number()]),
    setting: z.string().max(60).nullable().default(null),
    before: z.string().nullable().default(null),
    after: z.string().nullable().default(null),
    on_glass: z
      .boolean()
      .default(false)
      .describe(
        'The piece lies on glass, no longer on its filter: what must not be done on the filter may be.',
      ),
    note: z.string().max(4000).default(''),
  })
  .meta({ id: 'TestAnswerWish' });
export type TestAnswerWish = z.infer<typeof TestAnswerWish>;

const TallyJson = z.object({
  k: z.int().min(0).describe('Called plastic.'),
  n: z.int().min(0),
  cannot_tell: z.int().min(0),
  rate: Share.nullable().describe('Null where none was shown: not known, which is not zero.'),
});
const PartJson = z.object({ name: z.string(), plastic: TallyJson, others: TallyJson });

export const DrillJson = z
  .object({
    test: z.string().describe('by-eye, or the bench test.'),
    plastic: TallyJson,
    others: TallyJson,
    by_class: z.array(z.object({ class: z.enum(MATERIAL_CLASSES), tally: TallyJson })),
    by_size: z.array(PartJson),
    by_day: z.array(PartJson),
    by_person: z.array(PartJson),
    announced: PartJson,
    slipped_in: PartJson,
    contradicts: z.array(z.string()),
    enough: z.boolean(),
    published: z.array(z.object({ what: z.string(), share: z.number(), source: z.string() })),
  })
  .meta({ id: 'Drill' });
export type DrillJson = z.infer<typeof DrillJson>;

/** One sitting of a drill: what one person called the pieces of a set, in one go. */
export const SittingJson = z
  .object({
    test: z.string().describe('by-eye, or the bench test.'),
    set: z.string().describe('Name of the set.'),
    announced: z.boolean().describe('False: slipped in among real pieces.'),
    answers: z.array(
      z.object({
        id: z.string(),
        piece: z.string(),
        material: z.string(),
        plastic: z.boolean().describe('What it is.'),
        called: z.enum(CALLS),
        undone: z.boolean().describe('Taken back: it does not count.'),
        last: z
          .string()
          .describe('Itself, or the last undo upon it: undoing this one takes it back or puts it back.'),
      }),
    ),
    ...who,
  })
  .meta({ id: 'Sitting' });
export type SittingJson = z.infer<typeof SittingJson>;

export const KnownPieceJson = z.object({
  key: z.string().max(20),
  material: z.string().max(80),
  class: z.enum(MATERIAL_CLASSES),
  shape: z.enum(SHAPES),
  colour: z.enum(COLOURS),
  size_um: z.number().positive().nullable(),
  particle: z.string().nullable(),
});
export const KnownSetWish = z
  .object({ name: z.string().max(120), made: z.string().max(4000), pieces: z.array(KnownPieceJson).max(500) })
  .meta({ id: 'KnownSetWish' });
export type KnownSetWish = z.infer<typeof KnownSetWish>;
export const KnownSetJson = KnownSetWish.extend({ id: z.string(), ...who }).meta({ id: 'KnownSet' });
export type KnownSetJson = z.infer<typeof KnownSetJson>;

export const DrillWish = z
  .object({
    test: z.string().max(60),
    answers: z
      .array(
        z.object({
          id: z.uuid().optional().describe('Named by the device that sends it: sent twice, it is kept once.'),
          piece: z.string().max(20),
          called: z.enum(CALLS),
        }),
      )
      .min(1)
      .max(500),
  })
  .meta({ id: 'DrillWish' });
export type DrillWish = z.infer<typeof DrillWish>;

const SideShareJson = z.object({
  share: Share,
  pieces: z.int(),
  tested: z.int(),
  passed: z.int(),
  below_floor: z
    .boolean()
    .describe('No more passed than look-alikes alone would: only the upper end of the share can be stated.'),
});
export const SubsetJson = z
  .object({
    id: z.string(),
    name: z.string(),
    test: z.string(),
    seed: z.number(),
    strata: z.array(
      z.object({
        name: z.string(),
        side: z.enum(['specimens', 'controls']),
        pieces: z.int(),
        drawn: z.int(),
        tested: z.int(),
        passed: z.int(),
        without: z.int().describe('Put to the test without a result.'),
      }),
    ),
    specimens: SideShareJson.nullable().describe('Null: nothing tested there yet.'),
    controls: SideShareJson.nullable(),
    by_specimen: z
      .array(z.object({ specimen: z.string(), name: z.string(), share: SideShareJson.nullable() }))
      .describe('Where there are several: the share of each; null: too little tested, the whole’s is used.'),
    errors_known: z.boolean(),
    counts: z.boolean().describe('The claim goes by this one.'),
    ...who,
  })
  .meta({ id: 'Subset' });
export type SubsetJson = z.infer<typeof SubsetJson>;

/** One drawn piece, in the order in which it is tested. */
const Chance = z
  .object({
    value: z.number(),
    lower: z.number(),
    upper: z.number(),
    if_independent: z.number(),
    if_together: z.number(),
  })
  .nullable()
  .describe('Chance to be plastic after its tests; null: no test speaks.');
export const DrawnPieceJson = z.object({
  place: z.int().positive(),
  stratum: z.string(),
  side: z.enum(['specimens', 'controls']),
  run: z.string(),
  filter: z.string(),
  photo: z.string(),
  particle: MarkedParticleJson,
  answers: z.array(TestAnswerJson),
  chance: Chance,
});
export const SubsetDetail = z
  .object({ subset: SubsetJson, pieces: z.array(DrawnPieceJson), prior: z.number(), prior_from: z.string() })
  .meta({ id: 'SubsetDetail' });
export type SubsetDetail = z.infer<typeof SubsetDetail>;

/** One piece with all that was tested on it, chosen by hand or drawn. */
export const PieceDetail = z
  .object({
    run: z.string(),
    filter: z.object({ id: z.string(), name: z.string(), material: z.string() }),
    photo: z.string(),
    particle: MarkedParticleJson,
    answers: z.array(TestAnswerJson).describe('In force, oldest first.'),
    chance: Chance,
    prior: z.number(),
    prior_from: z.string(),
    used_up: z.string().nullable().describe('Why nothing is left to test; null: it is there.'),
    drawn: z
      .array(z.object({ id: z.string(), name: z.string(), test: z.string() }))
      .describe('Random parts that it was drawn for. Only what their own test says of it enters a share.'),
  })
  .meta({ id: 'PieceDetail' });
export type PieceDetail = z.infer<typeof PieceDetail>;

export const SubsetWish = z
  .object({ name: z.string().max(120), test: z.string().max(60), pieces: z.int().min(1).max(2000) })
  .meta({ id: 'SubsetWish' });
export type SubsetWish = z.infer<typeof SubsetWish>;

export const ResultsWish = z
  .object({
    csv: z
      .string()
      .max(900_000)
      .describe('A table with the columns particle and material, a heading line first.'),
    setting: z.enum(['infrared', 'raman']),
  })
  .meta({ id: 'ResultsWish' });
export type ResultsWish = z.infer<typeof ResultsWish>;
export const ResultsTaken = z.object({ taken: z.int() }).meta({ id: 'ResultsTaken' });

/** What a test would tell of the share of plastic among the counted pieces, before it is done. */
export const WorthJson = z.object({
  test: z.string(),
  now: z.number().describe('The share is known to ± this.'),
  after: z.number().describe('To ± this on average, after a dozen pieces more.'),
  rates_from: z.enum(['drill', 'published', 'nothing']),
});

export const RoundLineJson = z.object({
  id: z.string(),
  name: z.string(),
  what: z.enum(['pieces', 'fields']),
  pictures: z.int(),
  stage: z.enum(['scoring', 'third', 'ready', 'opened', 'taken-over', 'elsewhere']),
  at: z.string(),
});

export const EvidenceAnswer = z
  .object({
    counted: z.object({ specimens: z.int(), controls: z.int() }).describe('Pieces counted on each side.'),
    answers: z.array(TestAnswerJson).describe('Newest first.'),
    by_hand: z
      .array(TestAnswerJson)
      .describe('In force, on pieces that were chosen by hand: no share rests on them. Newest first.'),
    sets: z.array(KnownSetJson),
    drills: z.array(DrillJson),
    sittings: z.array(SittingJson).describe('Drills on record, newest first, those taken back too.'),
    subsets: z.array(SubsetJson),
    rounds: z.array(RoundLineJson),
    worth: z.array(WorthJson),
    people: z.array(z.object({ id: z.string(), name: z.string() })),
    working: z.string(),
  })
  .meta({ id: 'Evidence' });
export type EvidenceAnswer = z.infer<typeof EvidenceAnswer>;

export const UndoWish = z
  .object({
    undoes: z
      .union([z.string(), z.array(z.string()).min(1).max(500)])
      .describe('One record, or several that are taken back together: all or none.'),
  })
  .meta({ id: 'EvidenceUndoWish' });
export type UndoWish = z.infer<typeof UndoWish>;
export const RecordId = z.object({ id: z.string() }).meta({ id: 'RecordId' });
