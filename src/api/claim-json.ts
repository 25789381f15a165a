import type {
  Group,
  Interval,
  Judgement,
  NetRelease,
  Robustness,
  RobustnessRow,
} from '../science/counting/index.ts';
import type { Claim } from '../study/index.ts';
import type { ClaimJson } from './claim.ts';

/** A group of runs: whole counts, and per run at full effort. */
const groupJson = (group: Group) => ({
  runs: group.runs,
  count: group.count,
  effort: group.effort,
  mean_per_run: group.perRun.value,
  lower: group.perRun.lower,
  upper: group.perRun.upper,
  confidence: group.perRun.confidence,
});

export const intervalJson = (of: Interval) => ({
  value: of.value,
  lower: of.lower,
  upper: of.upper,
  confidence: of.confidence,
});
const orNull = (of: Interval | null) => of && intervalJson(of);

/** What else may travel with a claim. */
export interface WithClaim {
  readonly robustness?: Robustness;
  readonly sizes?: ClaimJson['sizes'];
}

/** The claim as it travels; without a judgement (it was refused) the figures are empty and the reasons say why. */
export function claimJson(
  claim: Claim,
  judgement: Judgement | null,
  { robustness, sizes }: WithClaim = {},
): ClaimJson {
  return {
    format: 'retentate/claim/1',
    state: claim.state,
    identified_by: claim.identifiedBy,
    attributed: claim.attributed,
    above_background: judgement?.aboveBackground ?? null,
    net_per_gram: orNull(claim.netPerGram),
    upper_limit_per_gram: claim.upperLimitPerGram,
    ...(judgement ? figures(judgement) : { background: {}, thresholds: {}, tests: [], comparison: [] }),
    // what is not stated per gram is not stated in another unit either
    net_per_portion: claim.netPerGram && judgement && intervalJson(judgement.netPerPortion),
    net_per_piece: claim.netPerGram && judgement && orNull(judgement.netPerPiece),
    natural_kept: judgement && orNull(judgement.naturalKept),
    joint: judgement?.joint ? jointJson(judgement.joint) : null,
    robustness: robustness ? robustnessJson(robustness) : null,
    sizes: sizes ?? null,
    gaps: claim.gaps.map((gap) => ({
      step: gap.step,
      grade: gap.grade,
      leaves_open: gap.leavesOpen,
      control: gap.control,
    })),
    sentence: claim.sentence,
    because: claim.because.map((reason) => reason.message),
    next: claim.next.map((step) => `${step.message} ${step.moves}`),
  };
}

const jointJson = (j: NetRelease): NonNullable<ClaimJson['joint']> => ({
  net_per_gram: intervalJson(j.perGram),
  net_per_act: intervalJson(j.perAct),
  net_per_piece: orNull(j.perPiece),
  background_per_run: intervalJson(j.background),
  upper_limit_per_gram: j.upperLimitPerGram,
  upper_limit_held: j.upperLimitHeld,
  probability_above: j.probabilityAbove,
  decided_by: j.decision.by,
  p: j.decision.p,
  scatter: { specimens: intervalJson(j.scatter.specimens), controls: intervalJson(j.scatter.controls) },
  recovery: orNull(j.recovery),
  variance: j.variance.map(({ source, share }) => ({ source, share })),
  method: j.method,
});

const rowJson = (row: RobustnessRow) => ({
  what: row.what,
  choice: row.choice,
  above: row.above,
  p: row.p,
  net_per_gram: orNull(row.netPerGram),
  agrees: row.agrees,
  refusal: row.refusal,
});

export const robustnessJson = (r: Robustness): NonNullable<ClaimJson['robustness']> => ({
  base: rowJson(r.base),
  rows: r.rows.map(rowJson),
  agreeing: r.agreeing,
  judged: r.judged,
  lowest_per_gram: r.span?.lowest ?? null,
  highest_per_gram: r.span?.highest ?? null,
});

function figures(j: Judgement): Pick<ClaimJson, 'background' | 'thresholds' | 'tests' | 'comparison'> {
  const t = j.thresholds;
  return {
    background: {
      ...groupJson(j.controls),
      expected_on_specimens: j.background.value,
      expected_on_specimens_lower: j.background.lower,
      expected_on_specimens_upper: j.background.upper,
      specimens: { ...groupJson(j.specimens), mass_g: j.specimens.massG },
      net_count: j.netCount,
      recovery: j.recovery,
    },
    thresholds: {
      alpha: t.alpha,
      deciding_count: t.decidingCount,
      deciding_per_run: t.decidingCount === null ? null : t.decidingCount / j.specimens.effort,
      decided_by: j.tests.find((test) => test.primary)!.name,
      decision_count: t.decisionCount,
      decision_per_run: t.decisionCount / j.specimens.effort,
      decision_count_assumes: 'runs scatter no more than Poisson',
      critical_net: t.criticalNet,
      detection_net: t.detectionNet,
      critical_per_gram: t.criticalPerGram,
      detection_per_gram: t.detectionPerGram,
      currie_critical_net: t.currie.criticalNet,
      currie_detection_net: t.currie.detectionNet,
      currie_deceives: t.currie.deceives,
    },
    tests: j.tests.map((test) => ({
      name: test.name,
      p: test.p,
      primary: test.primary,
      above: test.above,
      can_reach: test.canReach,
      says: test.says,
    })),
    comparison: j.comparison.map((rule) => ({
      name: rule.name,
      source: rule.source,
      reads: rule.reads,
      // Counts per run at full effort, not per gram.
      value_per_run: rule.value,
      threshold_per_run: rule.threshold,
      agrees: rule.agrees,
      deceives: rule.deceives,
    })),
  };
}
