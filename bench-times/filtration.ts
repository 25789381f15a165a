/**
 * How honest the forecast of a filtration is: seeded runs over the four laws, 3 % timing noise. Prints how often the 90 % band
 * holds the true capacity, how often the named law is the right one, and how often the laws cannot be told apart.
 * Run with: npx tsx bench-times/filtration.ts [runs a row]
 */
import {
  BLOCKING_LAWS,
  type BlockingLaw,
  forecastFlow,
  simulateFlow,
  timeFor,
  timeToVolume,
  volumeAtFlow,
} from '../src/science/fluids/index.ts';
import { chanceFrom } from '../src/science/maths/index.ts';

interface Row {
  readonly name: string;
  readonly upTo: () => number;
  readonly marks: () => number;
  readonly timingError: number;
  readonly errorsIn?: 'steps';
}

const runs = Number(process.argv[2] ?? 400);
const chance = chanceFrom(20_260_301);
const between = (low: number, high: number) => low + (high - low) * chance.uniform();
const rows: readonly Row[] = [
  {
    name: 'mixed: last mark at 30–100 % of capacity, 6–12 marks',
    upTo: () => between(0.3, 1),
    marks: () => 6 + Math.floor(7 * chance.uniform()),
    timingError: 0.03,
  },
  { name: 'early: 20–40 %, 6 marks', upTo: () => between(0.2, 0.4), marks: () => 6, timingError: 0.03 },
  { name: 'middle: 40–70 %, 8 marks', upTo: () => between(0.4, 0.7), marks: () => 8, timingError: 0.03 },
  { name: 'late: 70–100 %, 10 marks', upTo: () => between(0.7, 1), marks: () => 10, timingError: 0.03 },
  { name: 'late, three marks only', upTo: () => between(0.7, 1), marks: () => 3, timingError: 0.03 },
  { name: 'mixed, 1 % noise', upTo: () => between(0.3, 1), marks: () => 8, timingError: 0.01 },
  { name: 'mixed, 6 % noise', upTo: () => between(0.3, 1), marks: () => 8, timingError: 0.06 },
  {
    name: 'errors in the steps: 70–100 %, 10 marks',
    upTo: () => between(0.7, 1),
    marks: () => 10,
    timingError: 0.03,
    errorsIn: 'steps',
  },
  {
    name: 'errors in the steps: 30–80 %, 20 marks',
    upTo: () => between(0.3, 0.8),
    marks: () => 20,
    timingError: 0.03,
    errorsIn: 'steps',
  },
];

process.stdout.write(`${runs} runs a row, the four laws in turn, seed 20260301\n\n`);
process.stdout.write(
  '| runs | band covers | width (median) | named | of these right | time to capacity covered | speed-up refused |\n|---|---|---|---|---|---|---|\n',
);
for (const row of rows) {
  let covered = 0;
  let named = 0;
  let right = 0;
  let refused = 0;
  let timed = 0;
  const widths: number[] = [];
  const byLaw = new Map<BlockingLaw, [number, number, number]>(BLOCKING_LAWS.map((law) => [law, [0, 0, 0]]));
  for (let i = 0; i < runs; i++) {
    const law = BLOCKING_LAWS[i % 4]!;
    const capacityMl = Math.exp(between(Math.log(10), Math.log(2000)));
    const flowMlS = Math.exp(between(Math.log(0.2), Math.log(5)));
    const run = simulateFlow(chance, {
      law,
      capacityMl,
      flowMlS,
      upTo: row.upTo(),
      marks: row.marks(),
      timingError: row.timingError,
      ...(row.errorsIn ? { errorsIn: row.errorsIn } : {}),
    });
    const forecast = forecastFlow(run.marks);
    if (!forecast.ok) {
      refused++;
      continue;
    }
    const { capacityMl: band } = forecast.value;
    const tally = byLaw.get(law)!;
    tally[0]++;
    if (band.lower <= capacityMl && (band.upper === null || capacityMl <= band.upper)) {
      covered++;
      tally[1]++;
    }
    widths.push(band.upper === null ? Infinity : band.upper / band.lower);
    if (forecast.value.named !== null) named++;
    if (forecast.value.named === law) {
      right++;
      tally[2]++;
    }
    const target = Math.min(capacityMl, 1.5 * run.marks[run.marks.length - 1]!.volumeMl);
    const truth = timeFor(law, target, flowMlS, volumeAtFlow(law, 0.1, 1) / capacityMl);
    const { timeS } = timeToVolume(forecast.value, target);
    if (timeS === null ? false : timeS.lower <= truth && (timeS.upper === null || truth <= timeS.upper))
      timed++;
  }
  const n = runs - refused;
  widths.sort((a, b) => a - b);
  const percent = (k: number, of: number) => (of === 0 ? '–' : `${((100 * k) / of).toFixed(1)} %`);
  process.stdout.write(
    `| ${row.name} | ${percent(covered, n)} | ×${widths[n >> 1]!.toFixed(2)} | ${percent(named, n)} | ${percent(right, named)} | ${percent(timed, n)} | ${refused} |\n`,
  );
  process.stdout.write(
    `${[...byLaw].map(([law, [all, held, hit]]) => `<!-- ${law}: covers ${percent(held, all)}, named right ${percent(hit, all)} -->`).join('\n')}\n`,
  );
}
