/** Procedures, their editions and the kinds of step, as they travel. */
import { z } from 'zod';
import { CAUSES, MAKES, TOUCHES } from '../study/index.ts';

const words = z.string().max(10_000);
const touched = z.string().max(1000).nullable().default(null);

export const StepKindJson = z
  .object({
    kind: z.string().max(60),
    says: z.string().max(200).describe('Imperative, for the bench: “Rinse”.'),
    quantities: z
      .array(
        z.object({
          name: z.string().max(60).describe('Carries its unit: volume_ml, mass_g, temperature_c, minutes.'),
          label: z.string().max(200),
          least: z.number(),
          most: z.number(),
          tolerance: z.number().describe('Share by which two may differ and still be the same.'),
          scales: z.boolean().describe('A background that grows with it may be scaled.'),
        }),
      )
      .max(20),
    touches: z.array(z.enum(TOUCHES)),
    brings: z.array(z.enum(CAUSES)).describe('What stray particles it can bring.'),
    makes: z.array(z.enum(MAKES)).describe('Fractions that it makes.'),
  })
  .meta({ id: 'StepKind' });
export type StepKindJson = z.infer<typeof StepKindJson>;

export const StepKindsAnswer = z
  .object({
    kinds: z.array(StepKindJson.extend({ own: z.boolean().describe('Declared by this laboratory.') })),
  })
  .meta({ id: 'StepKinds' });
export type StepKindsAnswer = z.infer<typeof StepKindsAnswer>;

export const StepJson = z
  .object({
    key: z.string().max(60).describe('Stays the same through editions: “cut”, “rinse-2”.'),
    kind: z.string().max(60),
    quantities: z.record(z.string().max(60), z.number()).default({}),
    touches: z
      .object({
        vessel: touched,
        tool: touched,
        liquid: touched,
        reagent_lot: touched,
        place: touched,
        person: touched,
        filter_lot: touched,
        optics: touched,
      })
      .describe('Null: it touches no such thing, or nobody has said.'),
    minutes_uncovered: z.number().nullable().default(null),
    openings: z.number().nullable().default(null),
    note: words.default(''),
  })
  .meta({ id: 'Step' });
export type StepJson = z.infer<typeof StepJson>;

export const EditionJson = z
  .object({
    id: z.string(),
    number: z.int().min(1),
    steps: z.array(StepJson),
    because: z.string(),
    on: z.string().describe('When it was written, ISO 8601.'),
    by: z.string().nullable(),
    runs: z
      .array(z.object({ id: z.string(), name: z.string(), kind: z.string() }))
      .describe('Runs that followed it.'),
    changes: z.array(z.string()).describe('What it changed of the edition before, one sentence each.'),
    stops: z
      .array(z.string())
      .describe('What in its steps must not meet: mend it before anybody works by it.'),
  })
  .meta({ id: 'Edition' });
export type EditionJson = z.infer<typeof EditionJson>;

export const ProcedureJson = z
  .object({
    id: z.string(),
    name: z.string(),
    editions: z.array(EditionJson).describe('Oldest first; the last one is in use.'),
  })
  .meta({ id: 'Procedure' });
export type ProcedureJson = z.infer<typeof ProcedureJson>;

export const ProceduresAnswer = z.object({ procedures: z.array(ProcedureJson) }).meta({ id: 'Procedures' });
export type ProceduresAnswer = z.infer<typeof ProceduresAnswer>;

export const ProcedureWish = z
  .object({ name: words, steps: z.array(StepJson).max(200), because: words.default('') })
  .meta({ id: 'ProcedureWish' });
export type ProcedureWish = z.infer<typeof ProcedureWish>;

export const EditionWish = z
  .object({ steps: z.array(StepJson).max(200), because: words })
  .meta({ id: 'EditionWish' });
export type EditionWish = z.infer<typeof EditionWish>;
