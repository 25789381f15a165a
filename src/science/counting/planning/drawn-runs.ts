import { type Chance, chanceFrom, drawBinomial, drawPoisson } from '../../maths/index.ts';
import type { ControlRun, NetInput, SpecimenRun } from '../joint/net-input.ts';
import type { Spike } from '../joint/recovery-knowledge.ts';
import { type Design, type PlanWish, seedOf } from './plan-wish.ts';
import { runRecovery, scattered, type Truth } from './virtual-study.ts';

const listOf = <T>(n: number, make: () => T): T[] => Array.from({ length: n }, make);

function control(chance: Chance, truth: Truth, fraction: number): ControlRun {
  const mean = scattered(chance, truth.background, truth.backgroundScatter);
  return { count: drawPoisson(chance, fraction * mean), passed: fraction, examined: 1 };
}

function specimen(chance: Chance, truth: Truth, fraction: number, massG: number): SpecimenRun {
  const released =
    truth.releasePerGram > 0
      ? scattered(chance, truth.releasePerGram, truth.releaseScatter) * massG * runRecovery(chance, truth)
      : 0;
  const mean = scattered(chance, truth.background, truth.backgroundScatter) + released;
  return { count: drawPoisson(chance, fraction * mean), passed: fraction, examined: 1, massG };
}

/**
 * Virtual study i of a plan. Specimen runs, controls and spiked runs come each from a chance of their own, so that a
 * design with two controls more holds the same runs and two more: what differs between designs is then the design.
 */
export function drawRuns(
  wish: PlanWish,
  design: Pick<Design, 'specimens' | 'controls' | 'spikes'>,
  release: number,
  i: number,
): Omit<NetInput, 'confidence'> {
  const { massG, fraction, addedPerSpike } = wish;
  const truth = { ...wish.truth, releasePerGram: release };
  const seed = 3 * seedOf(wish, i);
  const chances = [chanceFrom(seed), chanceFrom(seed + 1), chanceFrom(seed + 2)] as const;
  return {
    specimens: listOf(design.specimens, () => specimen(chances[0], truth, fraction, massG)),
    controls: listOf(design.controls, () => control(chances[1], truth, fraction)),
    spikes: listOf(
      design.spikes,
      (): Spike => ({
        found: drawBinomial(chances[2], addedPerSpike, runRecovery(chances[2], truth)),
        added: addedPerSpike,
      }),
    ),
  };
}
