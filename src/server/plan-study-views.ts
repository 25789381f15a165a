/** Plans in and out: the ten answers, what a design may find, what is planned and done. */
import { makePlannedStudy, stepsInForceOf } from '../actions/index.ts';
import type { PLAN_STUDY_ROUTES, PlanAnswersJson, PlannedStudyWish, StudyPlanJson } from '../api/index.ts';
import {
  CANDIDATES,
  CAUSES,
  type Candidate,
  type Cause,
  cautionsOfAll,
  checkAnswers,
  expectedLimits,
  type Id,
  kindOf,
  leftOpen,
  type PlanAnswers,
  type Run,
  SAFETY_FIRST,
  type SafetyAnswers,
  type Step,
  type StudyId,
  smallestControlSet,
  stillTangled,
} from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { answered, type Deed, part, valid } from './answering.ts';
import { safetyJson } from './checklist-views.ts';
import type { Served } from './served.ts';

/** Left-out fields stay left out: what nobody changed is as the plan proposes. */
const given = <T extends object>(fields: T): { [F in keyof T]: NonNullable<T[F]> } =>
  Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as never;

export const answersOf = (json: PlanAnswersJson): PlanAnswers => ({
  product: json.product,
  polymers: json.polymers,
  act: json.act,
  actWords: json.act_words,
  minutes: json.minutes,
  matrix: json.matrix,
  liquidWords: json.liquid_words,
  volumeMl: json.volume_ml,
  matrixG: json.matrix_g,
  hottestC: json.hottest_c,
  seeing: json.seeing,
  needle: json.needle,
  setting: json.setting,
  equipment: json.equipment,
  pieces: json.pieces,
  massG: json.mass_g,
  unit: json.unit,
  hours: json.hours,
  sessions: json.sessions,
  person: json.person,
  place: json.place,
  safety: json.safety,
  changed: given({
    sizeFromUm: json.changed.size_from_um,
    specimens: json.changed.specimens,
    controls: json.changed.controls,
    blanks: json.changed.blanks,
    spikes: json.changed.spikes,
    reagent: json.changed.reagent,
    poreUm: json.changed.pore_um,
    filter: json.changed.filter,
    background: json.changed.background,
    releasePerGram: json.changed.release_per_gram,
  }),
});

/** Controls that are recorded, as the candidates that they are. */
function candidatesOf(runs: readonly Run[], stepsOf: (run: Run) => readonly Step[]): readonly string[] {
  const names = new Set<string>();
  for (const run of runs) {
    const fitting = CANDIDATES.filter(({ kind }) => kind === run.kind);
    if (fitting.length === 0) continue;
    const kinds = new Set(stepsOf(run).map((step) => step.kind));
    names.add(likeliest(fitting, kinds).name);
  }
  return [...names];
}

/** Of the reagent blanks, the one without a reagent is of the rinse water. */
function likeliest(fitting: readonly Candidate[], kinds: ReadonlySet<string>): Candidate {
  const [first] = fitting;
  if (first!.name !== 'reagent-blank' || kinds.has('digest') || kinds.has('float')) return first!;
  return fitting.find(({ name }) => name === (kinds.has('rinse') ? 'vessel-blank' : 'rinse-blank')) ?? first!;
}

export function planView(served: Served, id: string): Promise<Outcome<StudyPlanJson>> {
  const study = id as StudyId;
  return served.records.look(async (look) => {
    if ((await look.studies.get(study)) === null) {
      return refused({
        why: 'no-such-study',
        message: `There is no study ${id} in this laboratory; read the list anew.`,
      });
    }
    const plan = await look.plans.newest(study);
    const editions = await look.editions.ofStudy(study);
    const procedures = new Map((await look.procedures.ofStudy(study)).map((one) => [one.id, one.name]));
    const specimens = new Map((await look.specimens.ofStudy(study)).map((one) => [one.id, one.name]));
    const runs = await look.runs.ofStudy(study);
    const gone = new Set((await look.runs.withdrawnOfStudy(study)).map(({ name }) => name.toLowerCase()));
    const ofEdition = new Map(editions.map((edition) => [edition.id, edition]));
    const stepsOf = (run: Run) => ofEdition.get(run.edition)?.steps ?? [];
    const latest = editions.filter(
      (edition) =>
        !editions.some((one) => one.procedure === edition.procedure && one.number > edition.number),
    );
    const inForce = await stepsInForceOf(look, study);
    const ofRuns = runs.filter((run) => run.kind === 'specimen').flatMap(stepsOf);
    const steps = ofRuns.length > 0 ? ofRuns : latest.flatMap((edition) => edition.steps);
    const newestOf = (id: Id<'edition'>): string => {
      const procedure = ofEdition.get(id)?.procedure;
      return latest.find((edition) => edition.procedure === procedure)?.id ?? id;
    };
    const safety = (plan?.answers as { safety?: SafetyAnswers } | undefined)?.safety ?? {};
    return done({
      planned: (plan?.runs.length ?? 0) > 0,
      // Of a procedure that is withdrawn nothing is to be done.
      runs: (plan?.runs ?? [])
        .filter(({ edition }) => ofEdition.has(edition))
        .map((run) => {
          const name = nameToDo(run.name, gone);
          const names = [run.name, name].map((one) => one.toLowerCase());
          return {
            name,
            kind: run.kind,
            // A procedure revised since the plan: runs still to do follow its newest edition.
            edition: newestOf(run.edition),
            procedure: procedures.get(ofEdition.get(run.edition)?.procedure as Id<'procedure'>) ?? '',
            specimen: run.specimen === null ? null : (specimens.get(run.specimen) ?? null),
            session: run.session,
            order: run.order,
            because: run.because,
            run: runs.find((one) => names.includes(one.name.toLowerCase()))?.id ?? null,
          };
        }),
      controls: controlsJson(steps, runs, stepsOf),
      cautions:
        inForce.length === 0 ? [] : [SAFETY_FIRST, ...cautionsOfAll(inForce).map(({ message }) => message)],
      safety: safetyJson(inForce, safety),
    });
  });
}

/** A planned run that was withdrawn is to be done again, under the first name behind its own that was not withdrawn too. */
function nameToDo(planned: string, gone: ReadonlySet<string>): string {
  for (let n = 1; ; n += 1) {
    const name = n === 1 ? planned : `${planned}, ${n}`;
    if (!gone.has(name.toLowerCase())) return name;
  }
}

function controlsJson(
  steps: readonly Step[],
  runs: readonly Run[],
  stepsOf: (run: Run) => readonly Step[],
): StudyPlanJson['controls'] {
  const brought = new Set<Cause>([
    'product',
    'person',
    ...steps.flatMap((step) => kindOf(step)?.brings ?? []),
  ]);
  if (runs.some((run) => run.kind === 'matrix-blank') || steps.some((step) => step.quantities.mass_g)) {
    brought.add('matrix');
  }
  const causes = CAUSES.filter((cause) => brought.has(cause));
  const have = candidatesOf(runs, stepsOf);
  const { tangled, next } = stillTangled(causes, have);
  const { chosen } = smallestControlSet(causes);
  return {
    causes: [...new Set(causes.map(leftOpen))],
    have: have.map((name) => {
      const candidate = CANDIDATES.find((one) => one.name === name)!;
      const before = stillTangled(
        causes,
        have.filter((other) => other !== name),
      );
      return {
        called: candidate.called,
        number: runs.filter((run) => run.kind === candidate.kind).length,
        buys: `Alone tells ${before.tangled.length - tangled.length} pairs of causes apart that no other control here does.`,
      };
    }),
    tangled: tangled.length,
    next: next && { called: next.candidate.called, how: next.candidate.how, buys: next.buys },
    best: chosen.map(({ candidate, buys }) => ({
      called: candidate.called,
      how: candidate.how,
      buys,
      done: have.includes(candidate.name),
    })),
  };
}

export const planStudyDeeds = (served: Served): Readonly<Record<keyof typeof PLAN_STUDY_ROUTES, Deed>> => ({
  planLimits: async (c) => {
    const answers = answersOf(valid<PlanAnswersJson>(c, 'json'));
    const problem = checkAnswers(answers);
    if (problem) return answered(c, refused(problem));
    const limits = expectedLimits(answers);
    return c.json({
      smallest_seen_per_gram: limits.smallestSeenPerGram,
      limit_per_gram: limits.limitPerGram,
      sentence: limits.sentence,
      assumes: limits.assumes,
    });
  },
  makePlannedStudy: async (c) => {
    const { name, answers } = valid<PlannedStudyWish>(c, 'json');
    const made = await makePlannedStudy(served, { name, answers: answersOf(answers), by: served.person });
    return answered(c, made, (study) => ({ id: study.id, name: study.name }));
  },
  plan: async (c) => answered(c, await planView(served, part(c, 'study'))),
});
