import { conditionalTest } from '../src/science/counting/index.ts';
import { estimateNetRelease } from '../src/science/counting/joint/net-release.ts';
import { drawStudy } from '../src/science/counting/planning/virtual-study.ts';
import { chanceFrom } from '../src/science/maths/index.ts';

/**
 * Time of the joint model for 6 + 6 and 200 + 200 runs with three spiked runs, as a ratio to the exact conditional test
 * of the same totals (which allows no scatter and no recovery).
 */
export function benchCounting(print: (line: string) => void): void {
  const truth = {
    background: 8,
    releasePerGram: 10,
    backgroundScatter: 0.2,
    releaseScatter: 0.2,
    recovery: 0.8,
    recoverySd: 0.05,
  };
  for (const n of [6, 200]) {
    const study = drawStudy(chanceFrom(n), truth, {
      specimens: n,
      controls: n,
      massG: 1,
      massSpread: 0.1,
      specimenFraction: 1,
      controlFraction: 1,
      spikes: 3,
      addedPerSpike: 40,
    });
    const total = (runs: readonly { count: number }[]): number => runs.reduce((sum, r) => sum + r.count, 0);
    const joint = timeOf(() => estimateNetRelease({ ...study, confidence: 0.95 }));
    const exact = timeOf(() => conditionalTest(total(study.specimens), n, total(study.controls), n));
    print(
      `counting ${n} + ${n} runs: joint model ${joint.toFixed(1)} ms, ${(joint / exact).toFixed(0)} × the exact conditional test (${exact.toFixed(3)} ms)`,
    );
  }
}

/** Median time of one call, in ms. */
function timeOf(work: () => unknown): number {
  const times: number[] = [];
  const until = performance.now() + 1500;
  for (let i = 0; i < 200 && (i < 3 || performance.now() < until); i++) {
    const start = performance.now();
    work();
    times.push(performance.now() - start);
  }
  times.sort((a, b) => a - b);
  return times[times.length >> 1]!;
}
