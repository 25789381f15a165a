import {
  adjustedForSeveral,
  binomialTest,
  clopperPearsonInterval,
  conditionalTest,
  countInterval,
  eTest,
  permutationTest,
  rateRatio,
  wilsonContinuityInterval,
  wilsonInterval,
} from '../../src/science/counting/index.ts';
import {
  betaLower,
  betaQuantile,
  type Chance,
  chanceFrom,
  drawBelow,
  drawPoisson,
  gammaQuantile,
  gammaUpper,
  lnGamma,
  lnHypergeometric,
  lnNegativeBinomial,
  negativeBinomialLower,
  normalQuantile,
  studentUpperQuantile,
} from '../../src/science/maths/index.ts';

type Numbers = readonly number[];

/** One kind of question: how its cases are drawn, what we answer, and how near another system must be. */
export interface Question {
  readonly name: string;
  readonly draw: (chance: Chance) => Numbers;
  readonly ours: (args: Numbers) => Numbers;
  /** Largest gap allowed, relative to the larger of the answer and `floor`. */
  readonly within: number;
  readonly floor: number;
}

const spread = (chance: Chance, low: number, high: number): number =>
  Math.exp(Math.log(low) + chance.uniform() * Math.log(high / low));
const share = (chance: Chance): number =>
  chance.uniform() < 0.5 ? chance.uniform() : spread(chance, 1e-10, 0.5);
const confidence = (chance: Chance): number => [0.9, 0.95, 0.99][drawBelow(chance, 3)]!;
const someCount = (chance: Chance): number => drawPoisson(chance, spread(chance, 0.3, 200));
const effort = (chance: Chance): number => spread(chance, 0.1, 50);
const ends = ({ lower, upper }: { lower: number; upper: number }): Numbers => [lower, upper];
const sides = ['greater', 'less', 'two-sided'] as const;

function twoCounts(chance: Chance): Numbers {
  const counts = [someCount(chance), effort(chance), someCount(chance), effort(chance)];
  return counts[0]! + counts[2]! === 0 ? [1, 1, 2, 1] : counts;
}
function part(chance: Chance): Numbers {
  const n = 1 + drawBelow(chance, 300);
  return [drawBelow(chance, n + 1), n, confidence(chance)];
}

export const QUESTIONS: readonly Question[] = [
  {
    name: 'lnGamma',
    draw: (c) => [spread(c, 1e-3, 1e6)],
    ours: ([x]) => [lnGamma(x!)],
    within: 1e-12,
    floor: 1,
  },
  {
    name: 'gammaUpper',
    draw: (c) => {
      const a = spread(c, 0.05, 1e4);
      return [a, Math.max(1e-3, a + 4 * (2 * c.uniform() - 1) * Math.sqrt(a))];
    },
    ours: ([a, x]) => [gammaUpper(a!, x!)],
    within: 1e-10,
    floor: 1e-250,
  },
  {
    name: 'gammaQuantile',
    draw: (c) => [spread(c, 0.1, 1e4), share(c)],
    ours: ([a, p]) => [gammaQuantile(a!, p!)],
    within: 1e-9,
    floor: 1e-250,
  },
  {
    name: 'betaLower',
    draw: (c) => [spread(c, 0.3, 500), spread(c, 0.3, 500), c.uniform()],
    ours: ([a, b, x]) => [betaLower(a!, b!, x!)],
    within: 1e-9,
    floor: 1e-200,
  },
  {
    name: 'betaQuantile',
    draw: (c) => [spread(c, 0.5, 500), spread(c, 0.5, 500), share(c)],
    ours: ([a, b, p]) => [betaQuantile(a!, b!, p!)],
    within: 1e-8,
    floor: 1e-200,
  },
  {
    name: 'normalQuantile',
    draw: (c) => [share(c)],
    ours: ([p]) => [normalQuantile(p!)],
    within: 1e-11,
    floor: 1e-3,
  },
  {
    name: 'studentUpperQuantile',
    draw: (c) => [spread(c, 1e-4, 0.45), 1 + drawBelow(c, 60)],
    ours: ([q, df]) => [studentUpperQuantile(q!, df!)],
    within: 1e-8,
    floor: 1e-3,
  },
  {
    name: 'garwood',
    draw: (c) => [someCount(c), confidence(c)],
    ours: ([n, level]) => ends(countInterval(n!, level!)),
    within: 1e-9,
    floor: 1e-6,
  },
  {
    name: 'conditional',
    draw: twoCounts,
    ours: ([k1, e1, k2, e2]) => sides.map((side) => conditionalTest(k1!, e1!, k2!, e2!, side)),
    within: 1e-7,
    floor: 1e-8,
  },
  {
    name: 'rateRatio',
    draw: (c) => {
      const [k1, e1, k2, e2] = twoCounts(c) as [number, number, number, number];
      return [k1 + 1, e1, k2 + 1, e2];
    },
    ours: ([k1, e1, k2, e2]) => ends(rateRatio(k1!, e1!, k2!, e2!, 0.95)),
    within: 1e-7,
    floor: 1e-8,
  },
  {
    name: 'eTest',
    draw: twoCounts,
    ours: ([k1, e1, k2, e2]) => sides.map((side) => eTest(k1!, e1!, k2!, e2!, side)),
    within: 1e-8,
    floor: 1e-6,
  },
  {
    name: 'wilson',
    draw: part,
    ours: ([k, n, level]) => ends(wilsonInterval(k!, n!, level!)),
    within: 1e-8,
    floor: 1e-4,
  },
  {
    name: 'wilsonContinuity',
    draw: part,
    ours: ([k, n, level]) => ends(wilsonContinuityInterval(k!, n!, level!)),
    within: 1e-8,
    floor: 1e-4,
  },
  {
    name: 'clopperPearson',
    draw: part,
    ours: ([k, n, level]) => ends(clopperPearsonInterval(k!, n!, level!)),
    within: 1e-8,
    floor: 1e-6,
  },
  {
    name: 'binomialTest',
    draw: (c) => [...part(c).slice(0, 2), 0.05 + 0.9 * c.uniform()],
    ours: ([k, n, p]) => [binomialTest(k!, n!, p!)],
    within: 1e-7,
    floor: 1e-8,
  },
  {
    name: 'permutation',
    draw: (c) => {
      const list = (mean: number, n: number): number[] =>
        Array.from({ length: n }, () => drawPoisson(c, mean));
      const n = 2 + drawBelow(c, 4);
      return [n, ...list(6, n), ...list(4, 2 + drawBelow(c, 4))];
    },
    ours: ([n, ...counts]) => [permutationTest(counts.slice(0, n!), counts.slice(n!)).p],
    within: 1e-10,
    floor: 1e-6,
  },
  {
    name: 'negativeBinomial',
    draw: (c) => [drawPoisson(c, 10), spread(c, 0.5, 40), spread(c, 0.3, 50)],
    ours: ([k, mean, shape]) => [
      lnNegativeBinomial(k!, mean!, shape!),
      negativeBinomialLower(k!, mean!, shape!),
    ],
    within: 1e-9,
    floor: 1e-3,
  },
  {
    name: 'hypergeometric',
    draw: (c) => {
      const all = 10 + drawBelow(c, 200);
      const marked = 1 + drawBelow(c, all - 1);
      const drawn = 1 + drawBelow(c, all - 1);
      const least = Math.max(0, marked + drawn - all);
      return [least + drawBelow(c, Math.min(marked, drawn) - least + 1), all, marked, drawn];
    },
    ours: ([k, all, marked, drawn]) => [lnHypergeometric(k!, all!, marked!, drawn!)],
    within: 1e-9,
    floor: 1,
  },
  {
    name: 'holm',
    draw: (c) => Array.from({ length: 2 + drawBelow(c, 6) }, () => share(c)),
    ours: (p) => adjustedForSeveral(p),
    within: 1e-10,
    floor: 1e-10,
  },
];

/** The cases of one seed: name, arguments and our answer. */
export function casesOf(seed: number, each: number): { question: Question; args: Numbers; ours: Numbers }[] {
  const chance = chanceFrom(seed);
  return QUESTIONS.flatMap((question) =>
    Array.from({ length: each }, () => {
      const args = question.draw(chance);
      return { question, args, ours: question.ours(args) };
    }),
  );
}

/** Largest gap of an answer from another system's, relative to the larger of that answer and the question's floor. */
export const gapOf = (question: Question, ours: Numbers, theirs: Numbers): number =>
  ours.length === theirs.length
    ? Math.max(
        ...ours.map((x, i) =>
          x === theirs[i] ? 0 : Math.abs(x - theirs[i]!) / Math.max(question.floor, Math.abs(theirs[i]!)),
        ),
      )
    : Infinity;
