/** Studies, standing and runs as they travel. */
import {
  type CountedRun,
  type CountedStudy,
  countRuns,
  isScorer,
  type SpecimenStanding,
  type Standing,
  standing,
  standingFrom,
} from '../actions/index.ts';
import {
  type CountJson,
  claimJson,
  type RunJson,
  type StandingJson,
  type StudiesAnswer,
  type StudyBriefJson,
  type StudyJson,
} from '../api/index.ts';
import { judge } from '../science/counting/index.ts';
import {
  COUNTS_ALONE,
  claimFrom,
  type Deviation,
  latestReadings,
  type PersonId,
  progressOf,
  type RunId,
  type Study,
  stateOfRound,
} from '../study/index.ts';
import { done, type Outcome } from '../units/index.ts';
import type { Served } from './served.ts';

export const runKind = (kind: CountedRun['run']['kind']): RunJson['kind'] =>
  kind === 'specimen' ? 'specimen-run' : kind;

export const countJson = (count: { readonly count: number | null; readonly unmarked: number }): CountJson =>
  count.count === null
    ? { state: 'not-looked' }
    : { state: 'counted', count: count.count, undecided: count.unmarked };

const claimOf = (specimen: SpecimenStanding) =>
  claimJson(specimen.claim, specimen.judged.ok ? specimen.judged.value : null);

/** Before any run was recorded there is a claim too: that nothing was measured. */
function claimOfNothing() {
  const judged = judge({ portions: [], controls: [], recovery: null, drill: null, confidence: 0.95 });
  return claimJson(claimFrom(judged, { ...COUNTS_ALONE, basis: 'study' }), null);
}

function questionSentence({ question }: Study): string {
  const size = `from ${question.sizeFromUm} µm${question.sizeToUm === null ? '' : ` to ${question.sizeToUm} µm`}`;
  const duration = question.durationMin === null ? '' : `, ${question.durationMin} min`;
  return `${question.product}: how many ${question.unit}, ${size}? ${question.act}${duration}.`;
}

function briefOf(stands: Standing, photos: number): StudyBriefJson {
  const { study, runs } = stands.counted;
  const first = stands.specimens[0];
  const claim = first ? claimOf(first) : claimOfNothing();
  const specimenRuns = runs.filter(({ run }) => run.kind === 'specimen').length;
  return {
    id: study.id,
    name: study.name,
    demonstration: study.invented,
    question: questionSentence(study),
    claim_state: claim.state,
    claim_sentence: claim.sentence,
    runs: specimenRuns,
    controls: runs.length - specimenRuns,
    photos,
  };
}

const photosOf = ({ filterCounts }: CountedStudy): number =>
  [...filterCounts.values()].reduce((sum, filter) => sum + filter.photos, 0);

export async function studiesView(served: Served): Promise<StudiesAnswer> {
  if (served.scoresAlone) return { studies: [], to_score: await toScoreView(served) };
  const studies = await served.records.look((look) => look.studies.list());
  const briefs: StudyBriefJson[] = [];
  for (const { id } of studies) {
    const counted = await countRuns(served, { study: id });
    if (counted.ok) briefs.push(briefOf(standingFrom(counted.value), photosOf(counted.value)));
  }
  return { studies: briefs, to_score: [] };
}

/** Names alone: neither what a study shows nor how many runs and controls it has, which tells how often a guess is right. */
const toScoreView = ({ records, person }: Served): Promise<StudiesAnswer['to_score']> =>
  records.look(async (look) => {
    const told: StudiesAnswer['to_score'] = [];
    for (const { id, name, invented } of await look.studies.list()) {
      const rounds = [];
      for (const round of await look.rounds.ofStudy(id)) {
        if (!isScorer(round, person)) continue;
        const state = stateOfRound(await look.roundEvents.ofRound(round.id));
        const readings = latestReadings(await look.readings.ofRound(round.id));
        const own = progressOf(round, person as PersonId, state, readings);
        const locked = state.opened !== null || own.locked;
        rounds.push({ id: round.id, name: round.name, locked, done: own.done, of: own.of });
      }
      told.push({ id, name, demonstration: invented, rounds });
    }
    return told;
  });

export async function studyView(served: Served, id: string): Promise<Outcome<StudyJson>> {
  const counted = await countRuns(served, { study: id });
  if (!counted.ok) return counted;
  const { question } = counted.value.study;
  const { confidence, matters } = question.decision;
  return done({
    ...briefOf(standingFrom(counted.value), photosOf(counted.value)),
    asked: {
      sentence: questionSentence(counted.value.study),
      product: question.product,
      act: question.act,
      duration: question.durationMin === null ? '' : `${question.durationMin} min`,
      liquid: question.liquid,
      size_from_um: question.sizeFromUm,
      size_to_um: question.sizeToUm,
      unit: question.unit,
      counts_as_microplastic: question.countsAs,
      decision_rule: `above the matching controls at ${Math.round(1000 * confidence) / 10} % confidence${
        matters === null ? '' : `; what matters begins at ${matters} ${question.unit}`
      }`,
    },
  });
}

export async function standingView(served: Served, id: string): Promise<Outcome<StandingJson>> {
  const stands = await standing(served, { study: id });
  if (!stands.ok) return stands;
  const { counted, specimens, heldBack } = stands.value;
  const serving = servingRuns(stands.value);
  const [first, ...others] = specimens;
  return done({
    study: id,
    specimen: first ? { id: first.specimen.id, name: first.specimen.name } : null,
    claim: first ? claimOf(first) : claimOfNothing(),
    comparisons: others.map((other) => ({
      specimen: { id: other.specimen.id, name: other.specimen.name },
      claim: claimOf(other),
    })),
    points: counted.runs.map((run) => ({
      run: run.run.id,
      name: run.run.name,
      kind: runKind(run.run.kind),
      mass_g: run.portion?.massG ?? null,
      passed: run.passed ?? 1,
      examined: run.examined ?? 0,
      count: countJson(run),
      background_from: serving.has(run.run.id),
    })),
    withdrawn: {
      runs: counted.withdrawn.length,
      after_count: counted.withdrawn.filter(({ countOpen }) => countOpen).length,
    },
    held_back: heldBack.map(({ why, message, place, run }) => ({
      why,
      message,
      place,
      run,
      filter: null,
      photo: null,
    })),
  });
}

/** The control runs that give the background of any specimen's claim. */
const servingRuns = ({ specimens }: Standing): ReadonlySet<string> =>
  new Set(specimens.flatMap(({ input }) => input.serving));

export async function runsView(served: Served, id: string): Promise<Outcome<readonly RunJson[]>> {
  const counted = await countRuns(served, { study: id });
  if (!counted.ok) return counted;
  const { study } = counted.value;
  const about = await served.records.look(async (look) => ({
    deviations: await look.deviations.ofStudy(study.id),
    editions: new Map((await look.editions.ofStudy(study.id)).map((edition) => [edition.id, edition])),
    people: new Map((await look.people.list()).map((person) => [person.id, person.name])),
  }));
  const stands = standingFrom(counted.value);
  const serving = servingRuns(stands);
  const heldOut = new Map<string, string>(
    stands.specimens.flatMap(({ input }) => input.heldOut.map(({ run, message }) => [run, message] as const)),
  );
  const leftOut = new Set<string>(stands.specimens.flatMap(({ input }) => input.leftOut));
  return done(
    counted.value.runs.map((run) => ({
      id: run.run.id,
      name: run.run.name,
      kind: runKind(run.run.kind),
      on: run.run.day,
      operator: about.people.get(run.run.by) ?? null,
      specimen: run.specimen?.name ?? null,
      portion: run.portion && { name: run.portion.name, mass_g: run.portion.massG },
      edition: editionName(about.editions.get(run.run.edition)),
      passed: run.passed ?? 1,
      examined: run.examined ?? 0,
      count: countJson(run),
      added: run.run.spike?.added ?? null,
      recovered: run.recovered,
      background_from: serving.has(run.run.id),
      judged: !leftOut.has(run.run.id) && !heldOut.has(run.run.id),
      remarks: [
        ...(heldOut.has(run.run.id)
          ? [heldOut.get(run.run.id)!]
          : leftOut.has(run.run.id)
            ? ['No control matches this run: it is not judged.']
            : []),
        ...remarksOf(run, about.deviations),
      ],
      filters: run.filters.map((filter) => filter.id),
    })),
  );
}

const editionName = (edition: { readonly number: number } | undefined): string | null =>
  edition ? `edition ${edition.number}` : null;

function remarksOf(run: CountedRun, deviations: readonly Deviation[]): string[] {
  const mine = deviations.filter((deviation) => deviation.runs.includes(run.run.id as RunId));
  const kept = run.fractions.filter((fraction) => fraction.fate === 'kept');
  return [
    ...(run.run.note === '' ? [] : [run.run.note]),
    ...mine.map((deviation) =>
      deviation.why === '' ? deviation.what : `${deviation.what} (${deviation.why})`,
    ),
    ...kept.map((fraction) => `${fraction.volumeMl} mL ${fraction.kind} kept: ${fraction.place}`),
    ...(run.count !== null && run.passed === null
      ? ['How much of the liquid passed is not recorded; all of it is taken to have passed.']
      : []),
    ...(run.recovered === null ? [] : [`${run.recovered} of the known pieces were found again.`]),
  ];
}
