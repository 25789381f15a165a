import { blankSpread, meanPlusSd, studentCriticalLevel } from './blank-limits.ts';
import { currieLimits, LOW_BACKGROUND } from './currie.ts';
import { minimumDetectableCount } from './detectable-count.ts';
import type { ComparedRule } from './judgement.ts';
import { nonNegativeNet } from './non-negative-net.ts';

/** What the published rules look at: counts per run at full effort. */
export interface RunRates {
  readonly specimens: readonly number[];
  readonly controls: readonly number[];
  readonly specimenCount: number;
  readonly specimenEffort: number;
  readonly controlCount: number;
  readonly controlEffort: number;
}

const mean = (list: readonly number[]): number => list.reduce((sum, x) => sum + x, 0) / list.length;
/** By simulation with Poisson blanks (deceiving-rules.test.ts). */
const FEW_BY_3 =
  'with few blanks or low counts it calls more empty runs detected than the 0.1 % it is taken for: 6.5–10 % with 3 blanks, 1.4–3.6 % with 10';
const FEW_BY_10 =
  'it is a level for stating an amount, not for deciding: an excess below it can be real; and with few blanks or low counts the spread it rests on is hardly known';
const EQUAL = 'all blanks are equal, so the spread is 0 and the rule has no width';
const LOW = 'counts are too low for a normal form; the exact threshold holds';

/**
 * The rules that papers use, on the same counts, each with a word where it deceives. None of them decides.
 * Sources: on each rule; deceiving rates from simulation with Poisson blanks.
 */
export function comparedRules(rates: RunRates, above: boolean, alpha: number): ComparedRule[] {
  const value = mean(rates.specimens);
  const blank = mean(rates.controls);
  const low = rates.controlCount < LOW_BACKGROUND;
  const few = rates.controls.length < 10;
  const rule = (name: string, source: string, threshold: number, deceives: string | null): ComparedRule => {
    const reads = value > threshold ? 'above' : 'not above';
    return { name, source, value, threshold, reads, agrees: (reads === 'above') === above, deceives };
  };
  const out: ComparedRule[] = [
    rule(
      'subtract the mean blank',
      'most common in papers',
      blank,
      'it has no uncertainty: half of all empty runs come out above 0',
    ),
  ];
  if (rates.controls.length >= 2) {
    const spread = blankSpread(rates.controls);
    const word = (deceives: string) => (spread.sd === 0 ? EQUAL : few || low ? deceives : null);
    out.push(
      rule(
        'mean + 3 SD of the blanks',
        'Long & Winefordner 1983 (from memory, unverified)',
        meanPlusSd(spread, 3),
        word(FEW_BY_3),
      ),
      rule(
        'mean + 10 SD of the blanks',
        'Keith et al. 1983 (from memory, unverified)',
        meanPlusSd(spread, 10),
        word(FEW_BY_10),
      ),
      rule(
        'mean + t·SD·√(1 + 1/n) of the blanks',
        'form of ISO 11843',
        studentCriticalLevel(spread, alpha),
        spread.sd === 0 ? EQUAL : low ? LOW : null,
      ),
    );
  } else {
    for (const [name, source] of [
      ['mean + 3 SD of the blanks', 'Long & Winefordner 1983 (from memory, unverified)'],
      ['mean + 10 SD of the blanks', 'Keith et al. 1983 (from memory, unverified)'],
    ] as const) {
      const deceives = 'a single blank has no spread';
      out.push({ name, source, value, threshold: null, reads: 'cannot say', agrees: false, deceives });
    }
  }
  const expected = (rates.controlCount / rates.controlEffort) * rates.specimenEffort;
  const perRun = (net: number): number => (expected + net) / rates.specimenEffort;
  const efforts = rates.controlEffort / rates.specimenEffort;
  const currie = currieLimits(expected, efforts, alpha);
  out.push(
    rule(
      'critical level of Currie (normal form)',
      'Currie 1968, Anal. Chem. 40:586',
      perRun(currie.critical),
      low ? LOW : null,
    ),
    rule(
      'minimum detectable count (Poisson)',
      'after Currie 1968, as used for filter counts',
      perRun(minimumDetectableCount(expected, efforts, alpha)),
      'it is a planning figure: an excess below it can still be real; plain Poisson blanks are assumed',
    ),
  );
  const net = nonNegativeNet(
    rates.specimenCount,
    rates.specimenEffort,
    rates.controlCount,
    rates.controlEffort,
    alpha,
  );
  out.push(
    rule(
      'decision threshold in the form of ISO 11929',
      'ISO 11929-1',
      blank + net.decisionThreshold,
      low ? LOW : null,
    ),
  );
  return out;
}
