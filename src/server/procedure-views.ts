/** Procedures, their editions and kinds of step, out and in. */
import { declareStepKind, reviseProcedure, writeProcedure } from '../actions/index.ts';
import type {
  EditionJson,
  EditionWish,
  PROCEDURE_ROUTES,
  ProcedureJson,
  ProcedureWish,
  StepJson,
  StepKindJson,
} from '../api/index.ts';
import {
  type AsGiven,
  type Edition,
  editionChanges,
  type Id,
  type Run,
  STEP_KINDS,
  type Step,
  type StepKind,
  type StudyId,
  stepKind,
  stopsIn,
} from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { answered, type Deed, part, valid } from './answering.ts';
import type { Served } from './served.ts';

export const stepJson = (step: Step): StepJson => ({
  key: step.key,
  kind: step.kind,
  quantities: { ...step.quantities },
  touches: {
    vessel: step.touches.vessel,
    tool: step.touches.tool,
    liquid: step.touches.liquid,
    reagent_lot: step.touches.reagentLot,
    place: step.touches.place,
    person: step.touches.person,
    filter_lot: step.touches.filterLot,
    optics: step.touches.optics,
  },
  minutes_uncovered: step.minutesUncovered,
  openings: step.openings,
  note: step.note,
});

/** A step as it came in; one of the laboratory's own kinds takes the declaration with it. */
export function stepGiven(step: StepJson, own: readonly StepKind[]): AsGiven<Step> {
  const { touches: t } = step;
  const declared = stepKind(step.kind) ? undefined : own.find((kind) => kind.kind === step.kind);
  return {
    ...(declared ? { own: kindAlone(declared) } : {}),
    key: step.key,
    kind: step.kind,
    quantities: step.quantities,
    touches: {
      vessel: t.vessel,
      tool: t.tool,
      liquid: t.liquid,
      reagentLot: t.reagent_lot,
      place: t.place,
      person: t.person,
      filterLot: t.filter_lot,
      optics: t.optics,
    },
    minutesUncovered: step.minutes_uncovered,
    openings: step.openings,
    note: step.note,
  };
}

const kindAlone = ({ kind, says, quantities, touches, brings, makes }: StepKind): StepKind => ({
  kind,
  says,
  quantities: quantities.map((quantity) => ({ ...quantity })),
  touches: [...touches],
  brings: [...brings],
  makes: [...makes],
});
const kindJson = (kind: StepKind) => kindAlone(kind) as StepKindJson;

/** Kinds that the laboratory declared, and those that the steps of this study brought with them from elsewhere. */
const ownKinds = (served: Served, study: StudyId | null = null): Promise<readonly StepKind[]> =>
  served.records.look(async (look) => {
    const declared = await look.stepKinds.list();
    if (study === null) return declared;
    const brought = (await look.editions.ofStudy(study)).flatMap((edition) =>
      edition.steps.flatMap((step) => step.own ?? []),
    );
    return [...declared, ...brought];
  });

interface Around {
  readonly runs: readonly Run[];
  readonly people: ReadonlyMap<string, string>;
}

const editionJson = (
  edition: Edition,
  before: Edition | undefined,
  { runs, people }: Around,
): EditionJson => ({
  id: edition.id,
  number: edition.number,
  steps: edition.steps.map(stepJson),
  because: edition.because,
  on: edition.madeAt,
  by: people.get(edition.by) ?? null,
  runs: runs
    .filter((run) => run.edition === edition.id)
    .map(({ id, name, kind }) => ({ id, name, kind: kind === 'specimen' ? 'specimen-run' : kind })),
  stops: stopsIn(edition.steps).map(({ message }) => message),
  changes: before ? [...editionChanges(before.steps, edition.steps)] : [],
});

export function proceduresView(served: Served, study: StudyId): Promise<ProcedureJson[]> {
  return served.records.look(async (look) => {
    const around: Around = {
      runs: await look.runs.ofStudy(study),
      people: new Map((await look.people.list()).map((person) => [person.id, person.name])),
    };
    const editions = await look.editions.ofStudy(study);
    return (await look.procedures.ofStudy(study)).map(({ id, name }) => {
      const mine = editions.filter((edition) => edition.procedure === id);
      return { id, name, editions: mine.map((edition, at) => editionJson(edition, mine[at - 1], around)) };
    });
  });
}

async function oneProcedure(served: Served, study: StudyId, id: string): Promise<Outcome<ProcedureJson>> {
  const found = (await proceduresView(served, study)).find((procedure) => procedure.id === id);
  return found
    ? done(found)
    : refused({
        why: 'no-such-procedure',
        message: `There is no procedure ${id} in this study; read the list anew.`,
      });
}

export const procedureDeeds = (served: Served): Readonly<Record<keyof typeof PROCEDURE_ROUTES, Deed>> => ({
  stepKinds: async (c) =>
    c.json({
      kinds: [
        ...STEP_KINDS.map((kind) => ({ ...kindJson(kind), own: false })),
        ...(await ownKinds(served)).map((kind) => ({ ...kindJson(kind), own: true })),
      ],
    }),
  declareStepKind: async (c) =>
    answered(
      c,
      await declareStepKind(served, { kind: valid<StepKindJson>(c, 'json'), by: served.person }),
      kindJson,
    ),
  procedures: async (c) => c.json({ procedures: await proceduresView(served, part(c, 'study') as StudyId) }),
  writeProcedure: async (c) => {
    const { name, steps, because } = valid<ProcedureWish>(c, 'json');
    const study = part(c, 'study') as StudyId;
    const own = await ownKinds(served, study);
    const written = await writeProcedure(served, {
      study,
      name,
      because,
      steps: steps.map((step) => stepGiven(step, own)),
      by: served.person,
    });
    return answered(c, written.ok ? await oneProcedure(served, study, written.value.procedure.id) : written);
  },
  reviseProcedure: async (c) => {
    const { steps, because } = valid<EditionWish>(c, 'json');
    const id = part(c, 'procedure') as Id<'procedure'>;
    const procedure = await served.records.look((look) => look.procedures.get(id));
    const own = await ownKinds(served, procedure?.study ?? null);
    const revised = await reviseProcedure(served, {
      procedure: id,
      because,
      steps: steps.map((step) => stepGiven(step, own)),
      by: served.person,
    });
    if (!revised.ok) return answered(c, revised);
    const whole = await oneProcedure(served, procedure!.study, id);
    return answered(c, whole, ({ editions }) => editions[editions.length - 1]);
  },
});
