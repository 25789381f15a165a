import {
  type CountingRefusal,
  exactDecisionCount,
  type Judgement,
  MINIMUM_DESIGN,
  runsMissing,
  sampleSize,
} from '../../science/counting/index.ts';
import type { Outcome } from '../../units/index.ts';
import type { ClaimState, NextStep } from './claim.ts';
import type { ClaimFacts } from './facts.ts';
import { plural, twoFigures } from './figures.ts';
import { limitWithMoreRuns } from './more-runs.ts';
import { narrower } from './narrower.ts';
import { notQuantifiedFor, outOfSight } from './state.ts';

/** Beyond this many controls more of them hardly move the threshold. */
const ENOUGH_CONTROLS = 10;
const MORE_CONTROLS = 2;

function thresholdWithMore(judgement: Judgement): { now: number; after: number } {
  const { controls, specimens, thresholds, alpha } = judgement;
  const grown = (controls.runs + MORE_CONTROLS) / controls.runs;
  const efforts = (controls.effort / specimens.effort) * grown;
  return {
    now: thresholds.decisionCount,
    after: exactDecisionCount(Math.round(controls.count * grown), efforts, alpha),
  };
}

/** Runs still missing, in words: “3 more matching controls and 1 more specimen run”. */
function moreRuns(controls: number, specimenRuns: number): string {
  const parts = [
    controls > 0 ? plural(controls, 'more matching control') : '',
    specimenRuns > 0 ? plural(specimenRuns, 'more specimen run') : '',
  ];
  return parts.filter((part) => part !== '').join(' and ');
}

function towardsComparison(judgement: Judgement, facts: ClaimFacts): NextStep[] {
  const out: NextStep[] = [];
  const { specimens, controls, alpha } = judgement;
  if (!judgement.meetsMinimum) {
    const missing = runsMissing(specimens.runs, controls.runs, alpha);
    out.push({
      why: 'reach-minimum',
      message: `Make ${moreRuns(missing.controls, missing.specimenRuns)}.`,
      moves:
        facts.basis === 'study'
          ? `The study can then make a claim, which needs ${MINIMUM_DESIGN}.`
          : 'The decision then no longer rests on the assumption that runs scatter no more than Poisson, and an amount can be stated.',
    });
  }
  const byCounts = judgement.tests.some((test) => test.primary && test.name === 'conditional-exact');
  if (byCounts && !judgement.aboveBackground && controls.runs < ENOUGH_CONTROLS) {
    const { now, after } = thresholdWithMore(judgement);
    if (after < now) {
      out.push({
        why: 'more-controls',
        message: `Make ${MORE_CONTROLS} more controls.`,
        moves: `If they look like the others, the count that stands out goes from ${now} to ${after}.`,
      });
    }
  }
  return out;
}

function towardsAmount(judgement: Judgement, state: ClaimState): NextStep[] {
  const out: NextStep[] = [];
  const why = state === 'detected-not-quantified' ? notQuantifiedFor(judgement) : null;
  if (judgement.recovery === null) {
    out.push({
      why: 'measure-recovery',
      message: 'Run three spiked runs: known pieces, counted in, carried through every step, counted again.',
      moves: 'Losses then enter the number, and an amount per gram can be stated.',
    });
  }
  if (why === 'natural-pieces-kept') {
    out.push({
      why: 'test-for-natural',
      message:
        'Test a random part of the kept pieces, and drill on natural pieces like those of this specimen.',
      moves: 'The share of natural pieces is then known and can be taken off.',
    });
  }
  if (why === 'too-wide' || state === 'not-distinguishable') out.push(narrower(judgement));
  if (state === 'not-detected') {
    out.push(...limitWithMoreRuns(judgement), {
      why: 'more-material',
      message: 'Take twice the mass through (larger portions or more runs).',
      moves: `The upper limit goes from ${twoFigures(judgement.upperLimitPerGram)} to about ${twoFigures(judgement.upperLimitPerGram / 2)} per gram if as little is seen.`,
    });
  }
  return out;
}

function towardsIdentity(judgement: Judgement, facts: ClaimFacts): NextStep[] {
  const out: NextStep[] = [];
  const kept = judgement.specimens.count;
  if (judgement.aboveBackground && facts.identification.by === 'by-eye' && kept > 0) {
    const n = Math.min(kept, sampleSize(kept, 0.1, judgement.confidence));
    out.push({
      why: 'test-pieces',
      message: `Test ${n} of the ${kept} pieces, drawn at random, with a heated needle or by spectrum; control pieces too.`,
      moves: 'The sentence then says “pieces that melt” or names the polymer, instead of “suspected”.',
    });
  }
  if (judgement.aboveBackground && facts.attribution.risesWithDose === null && facts.basis === 'study') {
    out.push({
      why: 'dose-series',
      message:
        'Run a dose series (none, one, two, four pieces in the same liquid) and compare with a reference piece.',
      moves:
        'A count that rises with dose can be attributed to the product; a constant background cannot make it rise.',
    });
  }
  return out;
}

/** What would move the claim, most needed first; each with what it would change. */
export function nextStepsFor(
  state: ClaimState,
  judged: Outcome<Judgement, CountingRefusal>,
  facts: ClaimFacts,
): NextStep[] {
  const gaps: NextStep[] = [
    ...facts.gaps.map((gap) => ({
      why: `close-gap`,
      message:
        gap.grade === 'unknown'
          ? `Write down what is not recorded on both sides: ${gap.control}.`
          : `Run this control: ${gap.control}.`,
      moves: `It would show whether ${gap.leavesOpen} explains the particles; until then the step “${gap.step}” stays open.`,
    })),
  ];
  // What holds a run back is told with the run; here it comes after what would move the claim of all.
  const matching: NextStep[] = (facts.leftOut ?? []).map(({ run, control }) => ({
    why: 'match-run',
    message: `Run this control: ${control}.`,
    moves: `Run ${run} then has a background of its own and is judged with the others.`,
  }));
  const sight: NextStep[] =
    outOfSight(facts) === 'none'
      ? []
      : [
          {
            why: 'stronger-optics',
            message: 'Photograph with a stronger lens, or narrow the question to the sizes that can be seen.',
            moves: `Pieces below ${twoFigures(facts.sizeFloorUm!)} µm would then be measured.`,
          },
        ];
  if (!judged.ok) {
    if (judged.refusal.why !== 'no-controls') return [...gaps, ...matching, ...sight];
    const blanks = exactDecisionCount(0, 3);
    return [
      ...gaps,
      {
        why: 'first-controls',
        message:
          'Run blanks: every step, liquid, vessel and filter the same, without the product; three to begin with.',
        moves: `With three blanks of none, ${blanks} particles in a run already stand out at one-sided 5 %.`,
      },
      ...matching,
      ...sight,
    ];
  }
  return [
    ...gaps,
    ...towardsComparison(judged.value, facts),
    ...towardsAmount(judged.value, state),
    ...towardsIdentity(judged.value, facts),
    ...matching,
    ...sight,
  ];
}
