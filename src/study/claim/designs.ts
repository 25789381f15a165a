/** Other questions that the records of a study can answer: two products, pairs within a session, a series of doses. */
import {
  adjustedForSeveral,
  type DosePoint,
  doseSlope,
  type Interval,
  type Judgement,
  netRatio,
  pairedDifference,
} from '../../science/counting/index.ts';
import type { Outcome } from '../../units/index.ts';
import type { RunForInput, StudyInput } from '../counting-input.ts';
import type { Specimen } from '../records/specimen.ts';
import { chance, plural, twoFigures } from './figures.ts';

/** One comparison that the records hold. `upper` null: no upper end can be given. */
export interface OtherQuestion {
  readonly kind: 'ratio' | 'pairs' | 'dose' | 'several';
  readonly title: string;
  readonly sentence: string;
  readonly value: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
  readonly confidence: number | null;
  readonly p: number | null;
  readonly unit: string;
  /** Why there is no number, where there is none. */
  readonly refusal: string | null;
  readonly source: string;
}

export interface ComparedSpecimen {
  readonly specimen: Specimen;
  readonly input: StudyInput;
  readonly judged: Outcome<Judgement>;
}

const RATIO = 'Zou & Donner 2008, Stat. Med. 27:1693; Donner & Zou 2012, Stat. Methods Med. Res. 21:347';
const PAIRS = 'Fisher 1935, The Design of Experiments, §21; Student 1908, Biometrika 6:1';
const DOSE = 'McCullagh & Nelder 1989, Generalized Linear Models, §9.2; Fisher 1935';
const HOLM = 'Holm 1979, Scand. J. Stat. 6:65';

const none = { value: null, lower: null, upper: null, confidence: null, p: null } as const;
const ends = (of: Interval) => ({
  value: of.value,
  lower: of.lower,
  upper: of.upper,
  confidence: of.confidence,
});

function ratioOf(first: ComparedSpecimen, other: ComparedSpecimen): OtherQuestion[] {
  if (!first.judged.ok || !other.judged.ok) return [];
  const title = `${first.specimen.name} against ${other.specimen.name}`;
  const about = { kind: 'ratio', title, unit: 'times as much per gram', source: RATIO } as const;
  const ratio = netRatio(first.judged.value.netPerGram, other.judged.value.netPerGram);
  if (!ratio.ok) {
    return [{ ...about, ...none, sentence: ratio.refusal.message, refusal: ratio.refusal.message }];
  }
  const { value, lower, upper, confidence } = ratio.value;
  const range =
    upper === null
      ? `at least ${twoFigures(lower)}; no upper end can be given, for ${other.specimen.name} may release nothing`
      : `${twoFigures(lower)} to ${twoFigures(upper)}`;
  const sentence = `${first.specimen.name} releases ${twoFigures(value)} times as much per gram as ${other.specimen.name} (${range}).`;
  return [{ ...about, value, lower, upper, confidence, p: null, sentence, refusal: null }];
}

/** Mean count per gram of a specimen's runs, by session; runs that were not looked at are in none. */
function bySession(runs: readonly RunForInput[], of: ComparedSpecimen): ReadonlyMap<string, number> {
  const sums = new Map<string, { count: number; grams: number }>();
  for (const run of runs) {
    if (run.run.kind !== 'specimen' || run.specimen?.id !== of.specimen.id) continue;
    if (run.count === null || run.examined === null || run.portion === null) continue;
    const grams = (run.passed ?? 1) * run.examined * run.portion.massG;
    if (!(grams > 0)) continue;
    const sum = sums.get(run.run.session) ?? { count: 0, grams: 0 };
    sums.set(run.run.session, { count: sum.count + run.count, grams: sum.grams + grams });
  }
  return new Map([...sums].map(([session, { count, grams }]) => [session, count / grams]));
}

function pairsOf(
  runs: readonly RunForInput[],
  first: ComparedSpecimen,
  other: ComparedSpecimen,
  confidence: number,
): OtherQuestion[] {
  const [mine, theirs] = [bySession(runs, first), bySession(runs, other)];
  const sessions = [...mine.keys()].filter((session) => theirs.has(session));
  if (sessions.length < 2) return [];
  const paired = pairedDifference(
    sessions.map((session) => [theirs.get(session)!, mine.get(session)!]),
    confidence,
  );
  if (!paired.ok) return [];
  const { difference, p, pairs, smallestPossible } = paired.value;
  const fewer = smallestPossible > 1 - confidence + 1e-12 ? ' So few pairs cannot reach 5 %.' : '';
  return [
    {
      kind: 'pairs',
      title: `${first.specimen.name} less ${other.specimen.name}, session by session`,
      ...ends(difference),
      p,
      unit: 'particles per gram, background not subtracted (it is common to both)',
      sentence: `In ${plural(pairs, 'session')} that held both, ${first.specimen.name} gave ${twoFigures(difference.value)} per gram more (${twoFigures(difference.lower)} to ${twoFigures(difference.upper)}; ${chance(p)} by changing signs).${fewer}`,
      refusal: null,
      source: PAIRS,
    },
  ];
}

/** Specimen runs with different numbers of pieces, and the controls as dose 0. */
function doseOf(runs: readonly RunForInput[], of: ComparedSpecimen, confidence: number): OtherQuestion[] {
  const points: DosePoint[] = [];
  for (const run of runs) {
    if (run.count === null || run.examined === null || run.passed === 0) continue;
    const mine = run.run.kind === 'specimen' && run.specimen?.id === of.specimen.id;
    const control = of.input.serving.includes(run.run.id);
    const dose = control ? 0 : mine ? (run.portion?.pieces ?? null) : null;
    if (dose !== null) points.push({ dose, count: run.count, effort: (run.passed ?? 1) * run.examined });
  }
  const doses = new Set(points.map((point) => point.dose));
  // one number of pieces and none is no series: that comparison is the claim itself
  if (doses.size < 3) return [];
  const about = {
    kind: 'dose',
    title: `${of.specimen.name}: more pieces, more particles?`,
    unit: 'particles more for each piece of product',
    source: DOSE,
  } as const;
  const slope = doseSlope(points, confidence);
  if (!slope.ok)
    return [{ ...about, ...none, sentence: slope.refusal.message, refusal: slope.refusal.message }];
  const { slope: s, p } = slope.value;
  return [
    {
      ...about,
      ...ends(s),
      p,
      sentence: `Over ${plural(doses.size, 'dose')} the count rises by ${twoFigures(s.value)} for each piece (${twoFigures(s.lower)} to ${twoFigures(s.upper)}; ${chance(p)}). A background that is the same at every dose cannot make it rise.`,
      refusal: null,
    },
  ];
}

/** Several specimens judged at once: each p raised so that any false one stays at the level. */
function severalOf(all: readonly ComparedSpecimen[]): OtherQuestion[] {
  const judged = all.flatMap(({ specimen, judged: of }) =>
    of.ok
      ? [{ name: specimen.name, p: of.value.tests.find((test) => test.primary)!.p, alpha: of.value.alpha }]
      : [],
  );
  if (judged.length < 2) return [];
  const raised = adjustedForSeveral(judged.map(({ p }) => p));
  const sentences = judged.map(
    ({ name, p, alpha }, i) =>
      `${name}: ${chance(p)} alone, ${chance(raised[i]!)} as one of ${judged.length}; ${raised[i]! <= alpha ? 'still above' : 'not above'} the background then.`,
  );
  return [
    {
      kind: 'several',
      title: `${judged.length} questions asked at once`,
      ...none,
      p: Math.min(...raised),
      unit: '',
      sentence: sentences.join(' '),
      refusal: null,
      source: HOLM,
    },
  ];
}

/** Every comparison that the records hold, the specimen asked about first. */
export function comparisonsOf(
  runs: readonly RunForInput[],
  all: readonly ComparedSpecimen[],
  confidence: number,
): OtherQuestion[] {
  const [first, ...others] = all;
  if (!first) return [];
  return [
    ...others.flatMap((other) => ratioOf(first, other)),
    ...others.flatMap((other) => pairsOf(runs, first, other, confidence)),
    ...doseOf(runs, first, confidence),
    ...severalOf(all),
  ];
}
