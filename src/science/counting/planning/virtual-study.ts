import { type Chance, drawBeta, drawBinomial, drawGamma, drawPoisson } from '../../maths/index.ts';
import type { ControlRun, NetInput, SpecimenRun } from '../joint/net-input.ts';
import type { Spike } from '../joint/recovery-knowledge.ts';
import type { Drill, Tested } from '../joint/true-share.ts';

/** What is true in a virtual study: the numbers that a real study never knows. */
export interface Truth {
  /** Pieces per whole run that would be found without the product. */
  readonly background: number;
  /** Pieces released per gram, before losses. */
  readonly releasePerGram: number;
  /** Variance of a run's background, and of its release, relative to their mean squared (1/shape; 0: counting only). */
  readonly backgroundScatter: number;
  readonly releaseScatter: number;
  readonly recovery: number;
  /** Standard deviation of recovery between runs. */
  readonly recoverySd: number;
}

/** How a virtual study is laid out. */
export interface Layout {
  readonly specimens: number;
  readonly controls: number;
  readonly massG: number;
  /** passed × examined of specimen runs and of controls. */
  readonly specimenFraction: number;
  readonly controlFraction: number;
  readonly spikes: number;
  readonly addedPerSpike: number;
  /** Relative half-width of portion masses about massG (even spread); 0: all alike. */
  readonly massSpread?: number;
  /** Earlier batches of controls, of as many runs as this study's, at other levels of background. */
  readonly earlierBatches?: number;
}

/** Natural specks among the candidates, and the test that tells them apart. */
export interface Errors {
  /** Natural specks per whole run that look like candidates, on either side. */
  readonly specksSpecimen: number;
  readonly specksControl: number;
  readonly sensitivity: number;
  readonly falseRate: number;
  readonly drillTrue: number;
  readonly drillOther: number;
  /** Candidates tested on each side (or all, when fewer). */
  readonly tested: number;
}

/** A mean as it is in one run: gamma about itself, its variance this share of its square. */
export const scattered = (chance: Chance, mean: number, scatter: number): number =>
  scatter > 0 && mean > 0 ? mean * scatter * drawGamma(chance, 1 / scatter) : mean;

/** Recovery as it is in one run. */
export function runRecovery(chance: Chance, truth: Truth): number {
  const { recovery, recoverySd } = truth;
  if (recoverySd === 0 || recovery === 1) return recovery;
  const size = (recovery * (1 - recovery)) / recoverySd ** 2 - 1;
  return drawBeta(chance, recovery * size, (1 - recovery) * size);
}

/** One virtual study, drawn from a truth. The background is what reaches the filter, so recovery does not thin it. */
export function drawStudy(
  chance: Chance,
  truth: Truth,
  layout: Layout,
  errors?: Errors,
): Omit<NetInput, 'confidence'> {
  let plasticSpecimen = 0;
  let plasticControl = 0;
  let candidatesSpecimen = 0;
  let candidatesControl = 0;
  const specimens: SpecimenRun[] = [];
  for (let i = 0; i < layout.specimens; i++) {
    const massG = layout.massG * (1 + (layout.massSpread ?? 0) * (2 * chance.uniform() - 1));
    const released =
      scattered(chance, truth.releasePerGram, truth.releaseScatter) * massG * runRecovery(chance, truth);
    const mean = scattered(chance, truth.background, truth.backgroundScatter) + released;
    const plastic = drawPoisson(chance, layout.specimenFraction * mean);
    const specks = errors ? drawPoisson(chance, layout.specimenFraction * errors.specksSpecimen) : 0;
    plasticSpecimen += plastic;
    candidatesSpecimen += plastic + specks;
    specimens.push({ count: plastic + specks, passed: layout.specimenFraction, examined: 1, massG });
  }
  const controls: ControlRun[] = [];
  for (let i = 0; i < layout.controls; i++) {
    const mean = scattered(chance, truth.background, truth.backgroundScatter);
    const plastic = drawPoisson(chance, layout.controlFraction * mean);
    const specks = errors ? drawPoisson(chance, layout.controlFraction * errors.specksControl) : 0;
    plasticControl += plastic;
    candidatesControl += plastic + specks;
    controls.push({ count: plastic + specks, passed: layout.controlFraction, examined: 1 });
  }
  const spikes: Spike[] = [];
  for (let i = 0; i < layout.spikes; i++) {
    const found = drawBinomial(chance, layout.addedPerSpike, runRecovery(chance, truth));
    spikes.push({ found, added: layout.addedPerSpike });
  }
  const history: ControlRun[][] = [];
  for (let i = 0; i < (layout.earlierBatches ?? 0); i++) {
    const level = truth.background * (0.5 + chance.uniform());
    history.push(
      Array.from({ length: layout.controls }, () => ({
        count: drawPoisson(
          chance,
          layout.controlFraction * scattered(chance, level, truth.backgroundScatter),
        ),
        passed: layout.controlFraction,
        examined: 1,
      })),
    );
  }
  if (!errors) return { specimens, controls, spikes, history };
  const drill: Drill = {
    truePositive: [drawBinomial(chance, errors.drillTrue, errors.sensitivity), errors.drillTrue],
    falsePositive: [drawBinomial(chance, errors.drillOther, errors.falseRate), errors.drillOther],
  };
  return {
    specimens,
    controls,
    spikes,
    history,
    drill,
    confirmation: {
      specimens: drawTested(chance, plasticSpecimen, candidatesSpecimen, errors),
      controls: drawTested(chance, plasticControl, candidatesControl, errors),
    },
  };
}

/** A random part of the candidates, tested with the test's errors. */
function drawTested(chance: Chance, plastic: number, candidates: number, errors: Errors): Tested {
  const tested = Math.min(candidates, errors.tested);
  let truePieces = plastic;
  let left = candidates;
  let positive = 0;
  for (let i = 0; i < tested; i++) {
    const isTrue = chance.uniform() * left < truePieces;
    if (isTrue) truePieces--;
    left--;
    if (chance.uniform() < (isTrue ? errors.sensitivity : errors.falseRate)) positive++;
  }
  return { positive, tested };
}
