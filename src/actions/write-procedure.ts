import {
  type AsGiven,
  type Edition,
  impossibleStep,
  makeEdition,
  makeProcedure,
  type Procedure,
  type Step,
} from '../study/index.ts';
import { done, type Outcome, type Refusal, refused } from '../units/index.ts';
import { asId, everOf, known, nameFree } from './known.ts';
import type { Tools } from './ports.ts';

export interface ProcedureWritten {
  readonly procedure: Procedure;
  readonly edition: Edition;
}

/** Asked of what is written from now on; an edition of former times stays as it is. */
const firstImpossible = (steps: readonly Step[]): Refusal | null =>
  steps.map(impossibleStep).find((problem) => problem !== null) ?? null;

/** A new procedure with its first edition. */
export const writeProcedure = (
  { records, clock, names }: Pick<Tools, 'records' | 'clock' | 'names'>,
  wish: {
    readonly study: string;
    readonly name: string;
    readonly steps: readonly AsGiven<Step>[];
    readonly because?: string;
    readonly by: string;
  },
): Promise<Outcome<ProcedureWritten>> =>
  records.change(async (desk) => {
    const study = await known(desk.studies.get(asId(wish.study)), 'study', wish.study);
    if (!study.ok) return study;
    const free = nameFree(wish.name, await everOf(desk.procedures, study.value.id), 'procedure');
    if (!free.ok) return free;
    const procedure = makeProcedure({ id: names.next(), study: study.value.id, name: wish.name });
    if (!procedure.ok) return procedure;
    const edition = makeEdition({
      id: names.next(),
      procedure: procedure.value.id,
      number: 1,
      steps: wish.steps,
      because: wish.because ?? '',
      madeAt: clock.now(),
      by: wish.by,
    });
    if (!edition.ok) return edition;
    const cannotBe = firstImpossible(edition.value.steps);
    if (cannotBe) return refused(cannotBe);
    await desk.procedures.add(procedure.value);
    await desk.editions.add(edition.value);
    return done({ procedure: procedure.value, edition: edition.value });
  });

/** The next edition of a procedure; runs keep the one that they followed. */
export const reviseProcedure = (
  { records, clock, names }: Pick<Tools, 'records' | 'clock' | 'names'>,
  wish: {
    readonly procedure: string;
    readonly steps: readonly AsGiven<Step>[];
    readonly because: string;
    readonly by: string;
  },
): Promise<Outcome<Edition>> =>
  records.change(async (desk) => {
    const procedure = await known(desk.procedures.get(asId(wish.procedure)), 'procedure', wish.procedure);
    if (!procedure.ok) return procedure;
    const latest = await desk.editions.latest(procedure.value.id);
    const made = makeEdition({
      id: names.next(),
      procedure: procedure.value.id,
      number: (latest?.number ?? 0) + 1,
      steps: wish.steps,
      because: wish.because,
      madeAt: clock.now(),
      by: wish.by,
    });
    if (!made.ok) return made;
    const cannotBe = firstImpossible(made.value.steps);
    if (cannotBe) return refused(cannotBe);
    await desk.editions.add(made.value);
    return made;
  });
