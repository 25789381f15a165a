import { type CountingRefusal, type Judgement, MINIMUM_DESIGN } from '../../science/counting/index.ts';
import type { Outcome } from '../../units/index.ts';
import type { ClaimState, Reason } from './claim.ts';
import type { ClaimFacts } from './facts.ts';
import { besideInterval, chance, percent, plural, range, twoFigures } from './figures.ts';
import { KNOWN_WITHIN, notQuantifiedFor, outOfSight } from './state.ts';

const TEST_NAMES = {
  'conditional-exact': 'The exact conditional test',
  permutation: 'Relabelling the runs',
  'joint-model': 'The joint model',
  'e-test': 'The E-test',
} as const;

function fromCounts(judgement: Judgement): Reason[] {
  const { specimens, controls, background, thresholds } = judgement;
  const primary = judgement.tests.find((t) => t.primary)!;
  const how = {
    permutation: 'by handing the runs’ labels out anew',
    'joint-model': 'by the joint model of runs and controls',
    'conditional-exact': 'by the exact conditional test',
    'e-test': 'by the E-test',
  }[primary.name];
  const out: Reason[] = [
    {
      why: 'counts',
      message: `${specimens.count} in ${plural(specimens.runs, 'specimen run')}; ${controls.count} in ${plural(controls.runs, 'control')}, so ${besideInterval(background)} are expected without the product.`,
    },
    {
      why: primary.above ? 'above-background' : 'within-background',
      message: `${primary.above ? 'Above' : 'Not above'} the background at one-sided ${percent(judgement.alpha)}, ${how} (${chance(primary.p)}).`,
    },
  ];
  if (primary.name === 'conditional-exact') {
    out.push({
      why: 'threshold',
      message: `With these controls ${thresholds.decisionCount} or more would stand out; a true excess of ${twoFigures(thresholds.detectionNet)} would do so ${percent(1 - thresholds.alpha)} of the time.`,
    });
  }
  if (primary.name === 'permutation' && thresholds.decidingCount !== null) {
    out.push({
      why: 'threshold',
      message: `Shared out over the runs as they are, ${thresholds.decidingCount} or more would stand out; ${
        thresholds.decisionCount > thresholds.decidingCount
          ? `with Poisson scatter it would take ${thresholds.decisionCount}, but runs that share so evenly scatter less than that`
          : `if runs scattered no more than Poisson, ${thresholds.decisionCount}`
      }.`,
    });
  }
  for (const other of judgement.tests) {
    if (other.primary || !other.canReach || other.above === primary.above) continue;
    out.push({
      why: 'tests-differ',
      message: `${TEST_NAMES[other.name]} reads ${other.above ? 'above' : 'not above'} (${chance(other.p)}); it does not decide here.`,
    });
  }
  const rules = judgement.comparison.filter(
    (rule) => !rule.agrees && rule.reads !== 'cannot say' && rule.deceives,
  );
  if (rules.length > 0) {
    const names = rules.map((rule) => `“${rule.name}” (${rule.deceives})`).join('; ');
    out.push({ why: 'other-rules-differ', message: `Other rules read it otherwise: ${names}.` });
  }
  return out;
}

function fromFacts(facts: ClaimFacts): Reason[] {
  const out: Reason[] = facts.gaps.map((gap) => ({
    why: `control-${gap.grade}`,
    message:
      gap.grade === 'unknown'
        ? `Whether the controls repeat the step “${gap.step}” is not recorded: ${gap.leavesOpen} is not ruled out.`
        : `The controls do not match at the step “${gap.step}” (${gap.grade}): ${gap.leavesOpen} is not ruled out.`,
  }));
  if (outOfSight(facts) === 'part') {
    out.push({
      why: 'below-size-floor',
      message: `Pieces from ${twoFigures(facts.scope!.fromUm)} to ${twoFigures(facts.sizeFloorUm!)} µm could not have been seen with these optics; nothing is said of them.`,
    });
  } else if (facts.sizeFloorUm === null) {
    out.push({
      why: 'size-floor-unknown',
      message: 'How small a piece these optics show was not determined: small ones may have been missed.',
    });
  }
  if (facts.leftOut && facts.leftOut.length > 0) {
    out.push({
      why: 'runs-left-out',
      message: `Recorded and not judged, because no control went their way: ${facts.leftOut.map(({ run }) => run).join(', ')}.`,
    });
  }
  out.push(...(facts.heldOut ?? []).map((message) => ({ why: 'volumes-do-not-agree', message })));
  if (facts.withdrawn) out.push({ why: 'runs-withdrawn', message: facts.withdrawn });
  if (facts.unreadable.length > 0) {
    out.push({
      why: 'unreadable',
      message: `Not read, and not counted as empty: ${facts.unreadable.join(', ')}.`,
    });
  }
  if (facts.identification.by === 'by-eye') {
    out.push({
      why: 'by-eye',
      message: 'Pieces were told from others by eye alone: they are suspected, not identified.',
    });
  } else if (!facts.identification.atRandom) {
    out.push({
      why: 'not-at-random',
      message: 'The tested pieces were not drawn at random, so their share does not stand for the rest.',
    });
  }
  return out;
}

function fromAmount(judgement: Judgement): Reason[] {
  switch (notQuantifiedFor(judgement)) {
    case 'too-wide':
      return [
        {
          why: 'too-wide',
          message: `The amount is not stated: its interval (${range(judgement.netPerGram)}) goes beyond a factor of ${KNOWN_WITHIN} of ${twoFigures(judgement.netPerGram.value)}.`,
        },
      ];
    case 'too-few-runs':
      return [
        {
          why: 'too-few-runs',
          message: `The amount is not stated: ${MINIMUM_DESIGN} are needed to know how runs scatter.`,
        },
      ];
    case 'recovery-too-low':
      return [
        {
          why: 'recovery-too-low',
          message: `Only ${percent(judgement.recovery!.value)} of known pieces came back.`,
        },
      ];
    default:
      return [];
  }
}

/** Why the claim is what it is: counts, decision, what the counts lack, what the records lack. */
export function reasonsFor(
  state: ClaimState,
  judged: Outcome<Judgement, CountingRefusal>,
  facts: ClaimFacts,
): Reason[] {
  if (!judged.ok) {
    // the sentence holds the refusal's own words, but for a study it has words of its own
    const told = facts.basis === 'counts-alone';
    return [
      ...(told ? [] : [{ why: judged.refusal.why, message: judged.refusal.message }]),
      ...fromFacts(facts),
    ];
  }
  return [
    ...fromCounts(judged.value),
    ...(state === 'detected-not-quantified' ? fromAmount(judged.value) : []),
    ...judged.value.cautions,
    ...fromFacts(facts),
  ];
}
