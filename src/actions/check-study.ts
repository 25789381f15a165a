import {
  type Checklist,
  type ChecklistFacts,
  checkList,
  type ListedRun,
  type PublishedScore,
  publishedScores,
  type SafetyAnswers,
  type Study,
  safetyGate,
} from '../study/index.ts';
import { done, type Outcome } from '../units/index.ts';
import { type CountedStudy, countStudy } from './count-runs.ts';
import { whatWasDone } from './cover-study.ts';
import { asId, known } from './known.ts';
import type { Look, Tools } from './ports.ts';
import { type Standing, standingFrom } from './standing.ts';
import { stepsInForceOf } from './steps-in-force.ts';
import { evidenceOf } from './weigh-evidence.ts';

export interface StudyChecked {
  readonly checklist: Checklist;
  readonly scores: readonly PublishedScore[];
}

/** Journal lines looked through for a change of the question; nobody changes it so often. */
const BACK = 2000;

async function listedRuns(look: Look, study: Study, counted: CountedStudy): Promise<readonly ListedRun[]> {
  const editions = new Map((await look.editions.ofStudy(study.id)).map((edition) => [edition.id, edition]));
  const stepsOf = whatWasDone(
    editions,
    await look.deviations.ofStudy(study.id),
    await look.taps.ofStudy(study.id),
  );
  return counted.runs.map((one) => ({
    run: one.run,
    steps: stepsOf(one.run).steps,
    filters: one.filters,
    passed: one.passed,
    examined: one.examined,
    count: one.count,
    unmarked: one.unmarked,
    matched: one.run.kind === 'specimen' ? (one.background?.serving.length ?? 0) > 0 : null,
  }));
}

/** Whether the question was changed after the first photograph had come in; null: none has. */
async function changedLate(look: Look, study: Study, firstPhoto: string | null): Promise<boolean | null> {
  if (firstPhoto === null) return null;
  const lines = await look.journal.newest(BACK);
  return lines.some(
    ({ deed, subject, at }) => deed === 'change-question' && subject === study.id && at > firstPhoto,
  );
}

export async function checklistFacts(
  look: Look,
  study: Study,
  counted: CountedStudy,
  { specimens }: Standing,
): Promise<ChecklistFacts> {
  const runs = await listedRuns(look, study, counted);
  const photos = await look.photos.linesOfStudy(study.id);
  const optics = await look.optics.ofStudy(study.id);
  const deviations = await look.deviations.ofStudy(study.id);
  const evidence = await evidenceOf(look, study);
  const rounds = await look.rounds.ofStudy(study.id);
  const plan = await look.plans.newest(study.id);
  const first = specimens[0];
  const rates = [...evidence.rates.values()];
  const coarsest = Math.max(0, ...optics.map(({ umPerPx }) => umPerPx ?? 0));
  const strata = evidence.confirmed.flatMap((one) => one.strata);
  const marks = await look.marks.newest(study.id, 500, null);
  const gate = safetyGate(
    await stepsInForceOf(look, study.id),
    (plan?.answers as { readonly safety?: SafetyAnswers } | undefined)?.safety ?? {},
  );
  const unread = photos.filter((photo) => photo.refusal !== null);
  const kept = new Set(
    counted.runs.flatMap(({ filters, fractions }) =>
      filters
        .filter(({ fraction }) => fractions.find(({ id }) => id === fraction)?.fate === 'kept')
        .map(({ id }) => id),
    ),
  );
  const searched = photos.filter((photo) => photo.finding !== null && photo.refusal === null);
  return {
    study,
    specimens: counted.specimens,
    portions: await look.portions.ofStudy(study.id),
    editions: await look.editions.ofStudy(study.id),
    runs,
    deviations: { all: deviations.length, reasoned: deviations.filter(({ why }) => why !== '').length },
    planned: (plan?.runs.length ?? 0) > 0,
    questionChangedLate: await changedLate(
      look,
      study,
      photos.reduce<string | null>((least, { at }) => (least === null || at < least ? at : least), null),
    ),
    photos: {
      all: photos.length,
      searched: searched.length,
      withScale: [...counted.filterCounts.values()].reduce((sum, filter) => sum + filter.searched, 0),
      refused: unread.filter(({ filter }) => !kept.has(filter)).length,
      setAside: unread.filter(({ filter }) => kept.has(filter)).length,
    },
    optics: { all: optics.length, calibrated: optics.filter(({ umPerPx }) => umPerPx !== null).length },
    floorUm: counted.runs.some((run) => run.floorUm !== null) ? counted.sizeFromUm : null,
    pxAcrossSmallest: coarsest > 0 ? counted.sizeFromUm / coarsest : null,
    markers: new Set(marks.map(({ by }) => by)).size,
    tests: {
      pieces: new Set(evidence.answers.map(({ particle }) => particle)).size,
      kinds: [...new Set(evidence.answers.map(({ test }) => test))],
    },
    drills: {
      plastic: Math.max(0, ...rates.map(({ plastic }) => plastic.n)),
      natural: Math.max(0, ...rates.map(({ others }) => others.n)),
    },
    confirmation: {
      drawn: strata.reduce((sum, { drawn }) => sum + drawn.length, 0),
      tested: strata.reduce((sum, { tested, without }) => sum + tested + without, 0),
    },
    rounds: { sealed: rounds.length, readers: new Set(rounds.flatMap(({ scorers }) => scorers)).size },
    claim: {
      state: first?.claim.state ?? 'not-measured',
      interval: (first?.claim.netPerGram ?? null) !== null,
      limit: (first?.claim.upperLimitPerGram ?? null) !== null,
      identifiedBy: first?.claim.identifiedBy ?? 'by-eye',
    },
    safetyAsked: gate.asked.length > 0,
    safetyReady: gate.ready,
  };
}

/** The reporting and quality items of a study, filled by its records, and the two published scores. */
export const checkStudy = (
  { records }: Pick<Tools, 'records'>,
  wish: { readonly study: string },
): Promise<Outcome<StudyChecked>> =>
  records.look(async (look) => {
    const study = await known(look.studies.get(asId(wish.study)), 'study', wish.study);
    if (!study.ok) return study;
    const counted = await countStudy(look, study.value);
    const facts = await checklistFacts(look, study.value, counted, standingFrom(counted));
    return done({ checklist: checkList(facts), scores: publishedScores(facts) });
  });
