import { clopperPearsonInterval, wilsonInterval } from '../src/science/counting/index.ts';
import { trueShare } from '../src/science/counting/joint/true-share.ts';
import { chanceFrom, drawBinomial } from '../src/science/maths/index.ts';
import { SEED } from './calibrate-cells.ts';

const percent = (k: number, n: number): string => ((100 * k) / n).toFixed(1);

/** Coverage of the interval of the true share under an imperfect test, beside the naive ones. */
export function shareLines(studies: number): string[] {
  const lines = [
    '',
    '## True share under an imperfect test',
    '',
    `Candidates tested 60, ${studies} virtual rounds a line (standard error of 95 %: ${(100 * Math.sqrt((0.05 * 0.95) / studies)).toFixed(1)} %). “Uncorrected”: the exact interval of the share called true. “Corrected share, plain error”: the corrected share with the binomial error of the tested pieces alone.`,
    '',
    '| drill pieces (each kind) | keeps true / other | true share | ours covers % | width | uncorrected % | corrected share, plain error % | refused |',
    '|---|---|---|---|---|---|---|---|',
  ];
  let seed = SEED;
  for (const n of [20, 40, 60]) {
    for (const [keeps, wrong] of [
      [0.9, 0.05],
      [0.8, 0.2],
      [0.7, 0.02],
    ] as const) {
      for (const share of [0, 0.1, 0.3, 0.7, 1]) lines.push(oneLine(n, keeps, wrong, share, studies, ++seed));
    }
  }
  return lines;
}

function oneLine(
  n: number,
  keeps: number,
  wrong: number,
  share: number,
  studies: number,
  seed: number,
): string {
  const chance = chanceFrom(seed);
  const tested = 60;
  let ours = 0;
  let plain = 0;
  let corrected = 0;
  let refused = 0;
  let width = 0;
  for (let i = 0; i < studies; i++) {
    const drill = {
      truePositive: [drawBinomial(chance, n, keeps), n] as const,
      falsePositive: [drawBinomial(chance, n, wrong), n] as const,
    };
    const positive = drawBinomial(chance, tested, share * keeps + (1 - share) * wrong);
    const answer = trueShare({ positive, tested }, drill, 0.95);
    if (!answer.ok) {
      refused++;
      continue;
    }
    const { lower, upper, value } = answer.value.share;
    if (lower <= share && share <= upper) ours++;
    width += upper - lower;
    const raw = clopperPearsonInterval(positive, tested, 0.95);
    if (raw.lower <= share && share <= raw.upper) plain++;
    const naive = wilsonInterval(Math.round(value * tested), tested, 0.95);
    const shift = value - Math.round(value * tested) / tested;
    if (naive.lower + shift <= share && share <= naive.upper + shift) corrected++;
  }
  const answered = studies - refused;
  return `| ${n} | ${keeps} / ${wrong} | ${share} | ${percent(ours, answered)} | ${(width / answered).toFixed(2)} | ${percent(plain, answered)} | ${percent(corrected, answered)} | ${refused} |`;
}
