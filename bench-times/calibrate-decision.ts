import { relabellingTest } from '../src/science/counting/joint/labels.ts';
import { drawStudy } from '../src/science/counting/planning/virtual-study.ts';
import { chanceFrom } from '../src/science/maths/index.ts';
import { SEED } from './calibrate-cells.ts';

/** The relabelling decision alone, which is quick enough for many more studies than the whole model. */
export function decisionLines(studies: number): string[] {
  const lines = [
    '',
    '## The decision alone, without release',
    '',
    `Relabelling test at one-sided 5 %, background 50 (where counts are least lumpy and the test comes nearest its level), ${studies} studies a line, Monte Carlo standard error ${(100 * Math.sqrt((0.05 * 0.95) / studies)).toFixed(2)} %.`,
    '',
    '| runs | shape | false detections % |',
    '|---|---|---|',
  ];
  for (const [specimens, controls] of [
    [4, 4],
    [6, 6],
    [12, 10],
  ] as const) {
    for (const scatter of [0, 0.2, 0.5, 1]) {
      const chance = chanceFrom(SEED + specimens * 100 + Math.round(scatter * 10));
      const truth = {
        background: 50,
        releasePerGram: 0,
        backgroundScatter: scatter,
        releaseScatter: scatter,
        recovery: 1,
        recoverySd: 0,
      };
      const layout = {
        specimens,
        controls,
        massG: 1,
        specimenFraction: 1,
        controlFraction: 1,
        spikes: 0,
        addedPerSpike: 0,
      };
      let above = 0;
      for (let i = 0; i < studies; i++) {
        const study = drawStudy(chance, truth, layout);
        const runs = (list: readonly { count: number }[]) =>
          list.map((r) => ({ count: r.count, fraction: 1 }));
        if (relabellingTest(runs(study.specimens), runs(study.controls)).p <= 0.05) above++;
      }
      const shape = scatter === 0 ? '∞' : String(1 / scatter);
      lines.push(`| ${specimens} + ${controls} | ${shape} | ${((100 * above) / studies).toFixed(2)} |`);
    }
  }
  return lines;
}
