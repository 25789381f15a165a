import { conditionalTest, splitsOfHours, withinReach } from '../src/science/counting/index.ts';
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
  benchPlanning(print);
}

/** Planning: what two more runs do to the limit, and the best split of forty hours, as a ratio to judging one study. */
function benchPlanning(print: (line: string) => void): void {
  const wish = {
    truth: {
      background: 5,
      releasePerGram: 6,
      backgroundScatter: 0.16,
      releaseScatter: 0.16,
      recovery: 0.8,
      recoverySd: 0.05,
    },
    massG: 1,
    fraction: 1,
    hours: { specimen: 2, control: 1.5, spike: 2, available: 40 },
    addedPerSpike: 40,
    confidence: 0.95,
  };
  const study = drawStudy(chanceFrom(6), wish.truth, {
    specimens: 6,
    controls: 6,
    massG: 1,
    specimenFraction: 1,
    controlFraction: 1,
    spikes: 3,
    addedPerSpike: 40,
  });
  const joint = timeOf(() => estimateNetRelease({ ...study, confidence: 0.95 }));
  for (const [what, work] of [
    ['within reach of 6 + 4 runs', () => withinReach(wish, 6, 4, 3)],
    ['best split of 40 h', () => splitsOfHours(wish, 'amount', 2)],
  ] as const) {
    const ms = timeOf(work);
    print(
      `planning, ${what}: ${ms.toFixed(0)} ms, ${(ms / joint).toFixed(0)} × judging one study of 6 + 6 runs`,
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
