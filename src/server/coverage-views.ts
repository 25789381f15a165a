/** Coverage as it travels: runs that did the same together, every control a thread. */
import { countRuns, planClosingControl, setComparisonRules } from '../actions/index.ts';
import type {
  COVERAGE_ROUTES,
  ComparisonRulesJson,
  CoverageAnswer,
  CoverageGroupJson,
  CoverageThreadJson,
} from '../api/index.ts';
import {
  BACKGROUND_KINDS,
  type ComparisonRules,
  type ControlCompared,
  type Covered,
  changesNeeded,
  controlCalled,
  mendSentence,
  type RunId,
  type StudyId,
  USUAL_TOLERANCES,
} from '../study/index.ts';
import { done, type Outcome } from '../units/index.ts';
import { answered, type Deed, part, valid } from './answering.ts';
import type { Served } from './served.ts';

const rulesJson = (rules: ComparisonRules | null): ComparisonRulesJson => {
  const { uncoveredShare, uncoveredMinutes, scaledUpTo } = rules?.tolerances ?? USUAL_TOLERANCES;
  return {
    uncovered_share: uncoveredShare,
    uncovered_minutes: uncoveredMinutes,
    scaled_up_to: scaledUpTo,
    alike: (rules?.alike ?? []).map((names) => [...names]),
    because: rules?.because ?? '',
  };
};

const inWords = (names: readonly string[]): string =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;

export async function coverageView(served: Served, id: string): Promise<Outcome<CoverageAnswer>> {
  const counted = await countRuns(served, { study: id });
  if (!counted.ok) return counted;
  const rules = await served.records.look((look) => look.comparisonRules.newest(id as StudyId));
  const { covered, runs } = counted.value;
  const names = new Map(runs.map(({ run }) => [run.id, run.name]));
  const specimenOf = new Map(runs.map(({ run, specimen }) => [run.id, specimen?.name ?? null]));
  const groups = new Map<string, { one: Covered; ofGroup: RunId[] }>();
  for (const [run, one] of covered) {
    const key = JSON.stringify([specimenOf.get(run), one.steps.map(({ step }) => step), one.background]);
    const there = groups.get(key);
    groups.set(key, { one, ofGroup: [...(there?.ofGroup ?? []), run] });
  }
  return done({
    groups: [...groups.values()].map(({ one, ofGroup }) =>
      groupJson(one, ofGroup, names, specimenOf.get(ofGroup[0]!)!),
    ),
    rules: rulesJson(rules),
  });
}

function groupJson(
  { steps, controls, background, gaps }: Covered,
  runs: readonly RunId[],
  names: ReadonlyMap<RunId, string>,
  specimen: string | null,
): CoverageGroupJson {
  const named = (id: RunId) => ({ id, name: names.get(id) ?? id });
  const called = inWords(runs.map((id) => named(id).name));
  const serving = background.serving.map(({ control }) => named(control).name);
  const judged = serving.length > 0;
  const threads = controls.map((control) => threadJson(control, background, named));
  return {
    runs: runs.map(named),
    specimen,
    steps: steps.map(({ step, grade, coveredBy }) => ({
      key: step.key,
      kind: step.kind,
      grade,
      repeated_by: [...coveredBy],
    })),
    threads: threads.sort((a, b) => Number(b.serves) - Number(a.serves) || order(a) - order(b)),
    judged,
    sentence: judged
      ? `${called}: judged against ${inWords(serving)}, which went through the same steps.`
      : mendSentence(
          runs.map((id) => named(id).name),
          background,
        ),
    mend: background.nearest && {
      kind: background.nearest.kind,
      like: background.nearest.name,
      with: background.nearest.changes.map(({ words }) => words),
    },
    open: gaps.map(({ leavesOpen, step, grade, closedBy }) => ({
      explanation: leavesOpen,
      step: step.key,
      grade,
      control: controlCalled(closedBy),
    })),
  };
}

const order = ({ kind, changes }: CoverageThreadJson): number => {
  const at = BACKGROUND_KINDS.indexOf(kind);
  return (at < 0 ? 100 : at) + changes.length / 10;
};

function threadJson(
  { runs, kind, comparison }: ControlCompared,
  { serving }: Covered['background'],
  named: (id: RunId) => { id: string; name: string },
): CoverageThreadJson {
  const serves = serving.find(({ control }) => runs.includes(control));
  return {
    controls: runs.map(named),
    kind,
    grades: comparison.steps.map(({ grade }) => grade),
    serves: serves !== undefined,
    scale: serves?.scale ?? 1,
    changes: changesNeeded(comparison).map(({ words }) => words),
  };
}

export const coverageDeeds = (served: Served): Readonly<Record<keyof typeof COVERAGE_ROUTES, Deed>> => ({
  planClosingControl: async (c) =>
    answered(
      c,
      await planClosingControl(served, { run: part(c, 'run'), by: served.person }),
      ({ name, edition, because }) => ({ name, edition, because }),
    ),
  coverage: async (c) => answered(c, await coverageView(served, part(c, 'study'))),
  setComparisonRules: async (c) => {
    const wish = valid<ComparisonRulesJson>(c, 'json');
    const set = await setComparisonRules(served, {
      study: part(c, 'study'),
      tolerances: {
        uncoveredShare: wish.uncovered_share,
        uncoveredMinutes: wish.uncovered_minutes,
        scaledUpTo: wish.scaled_up_to,
      },
      alike: wish.alike,
      because: wish.because,
      by: served.person,
    });
    return answered(c, set, rulesJson);
  },
});
