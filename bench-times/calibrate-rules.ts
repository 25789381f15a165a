import { blankSpread, conditionalTest, currieLimits, meanPlusSd } from '../src/science/counting/index.ts';
import type { NetInput } from '../src/science/counting/joint/net-input.ts';
import { normalQuantile, studentUpperQuantile } from '../src/science/maths/index.ts';

/** What a published rule says of one study: more than the background or not, and its 95 % interval where it gives one. */
export interface RuleAnswer {
  readonly above: boolean;
  readonly covers: boolean | null;
}

export interface PublishedRule {
  readonly name: string;
  readonly answer: (study: NetInput, truly: number) => RuleAnswer;
}

const sum = (list: readonly number[]): number => list.reduce((s, x) => s + x, 0);
const Z = normalQuantile(0.975);
const Z1 = normalQuantile(0.95);

interface Totals {
  readonly gross: number;
  readonly background: number;
  readonly grossFraction: number;
  readonly backgroundFraction: number;
  readonly grams: number;
  readonly recovery: number;
  readonly specimenRates: readonly number[];
  readonly controlRates: readonly number[];
}

function totalsOf(study: NetInput): Totals {
  const fraction = (run: { passed: number; examined: number }): number => run.passed * run.examined;
  const found = sum(study.spikes.map((s) => s.found));
  const added = sum(study.spikes.map((s) => s.added));
  return {
    gross: sum(study.specimens.map((s) => s.count)),
    background: sum(study.controls.map((c) => c.count)),
    grossFraction: sum(study.specimens.map(fraction)),
    backgroundFraction: sum(study.controls.map(fraction)),
    grams: sum(study.specimens.map((s) => s.massG)) / study.specimens.length,
    recovery: added > 0 && found > 0 ? found / added : 1,
    specimenRates: study.specimens.map((s) => s.count / fraction(s)),
    controlRates: study.controls.map((c) => c.count / fraction(c)),
  };
}

const meanOf = (list: readonly number[]): number => sum(list) / list.length;

/** Limit of blanks by spread: the mean specimen run is called above when it exceeds mean + k SD of the control runs. */
const spreadRule = (k: number): PublishedRule => ({
  name: `mean + ${k} SD`,
  answer: (study) => {
    const t = totalsOf(study);
    if (t.controlRates.length < 2) return { above: false, covers: null };
    return { above: meanOf(t.specimenRates) > meanPlusSd(blankSpread(t.controlRates), k), covers: null };
  },
});

export const PUBLISHED_RULES: readonly PublishedRule[] = [
  spreadRule(3),
  {
    name: 'subtraction, √N error',
    answer: (study, truly) => {
      const t = totalsOf(study);
      const net = t.gross / t.grossFraction - t.background / t.backgroundFraction;
      const error = Math.sqrt(t.gross / t.grossFraction ** 2 + t.background / t.backgroundFraction ** 2);
      const scale = t.recovery * t.grams;
      return {
        above: net > Z1 * error,
        covers: Math.abs(net / scale - truly) <= (Z * error) / scale + 1e-12,
      };
    },
  },
  {
    name: 'conditional Poisson',
    answer: (study) => {
      const t = totalsOf(study);
      return {
        above: conditionalTest(t.gross, t.grossFraction, t.background, t.backgroundFraction) <= 0.05,
        covers: null,
      };
    },
  },
  {
    name: 'Currie 1968',
    answer: (study) => {
      const t = totalsOf(study);
      const efforts = t.backgroundFraction / t.grossFraction;
      const expected = t.background / efforts;
      return { above: t.gross - expected > currieLimits(expected, efforts, 0.05).critical, covers: null };
    },
  },
  {
    name: 'mean ± t SD (Welch)',
    answer: (study, truly) => {
      const t = totalsOf(study);
      const s = blankSpread(t.specimenRates);
      const c = blankSpread(t.controlRates);
      const a = s.sd ** 2 / t.specimenRates.length;
      const b = c.sd ** 2 / t.controlRates.length;
      if (a + b === 0) return { above: false, covers: Math.abs(s.mean - c.mean - truly * t.grams) < 1e-12 };
      const df =
        (a + b) ** 2 / (a ** 2 / (t.specimenRates.length - 1) + b ** 2 / (t.controlRates.length - 1));
      const net = s.mean - c.mean;
      const half = studentUpperQuantile(0.025, df) * Math.sqrt(a + b);
      const scale = t.recovery * t.grams;
      return {
        above: net > studentUpperQuantile(0.05, df) * Math.sqrt(a + b),
        covers: Math.abs(net / scale - truly) <= half / scale,
      };
    },
  },
  spreadRule(10),
];
