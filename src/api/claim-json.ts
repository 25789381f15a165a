import type { Group, Judgement } from '../science/counting/index.ts';
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

/** The claim as it travels; without a judgement (it was refused) the figures are empty and the reasons say why. */
export function claimJson(claim: Claim, judgement: Judgement | null): ClaimJson {
  return {
    format: 'retentate/claim/1',
    state: claim.state,
    identified_by: claim.identifiedBy,
    attributed: claim.attributed,
    above_background: judgement?.aboveBackground ?? null,
    net_per_gram: claim.netPerGram && {
      value: claim.netPerGram.value,
      lower: claim.netPerGram.lower,
      upper: claim.netPerGram.upper,
      confidence: claim.netPerGram.confidence,
    },
    upper_limit_per_gram: claim.upperLimitPerGram,
    ...(judgement ? figures(judgement) : { background: {}, thresholds: {}, tests: [], comparison: [] }),
    sentence: claim.sentence,
    because: claim.because.map((reason) => reason.message),
    next: claim.next.map((step) => `${step.message} ${step.moves}`),
  };
}

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
      decision_count: t.decisionCount,
      decision_per_run: t.decisionCount / j.specimens.effort,
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
