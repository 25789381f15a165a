/**
 * Which of the finder's settings keeps a wanted number of false finds on blank photographs, told from photographs of one
 * membrane that were searched at several settings.
 */
import { done, type Outcome } from '../../units/index.ts';
import { dispersionTest } from './dispersion.ts';
import type { Interval } from './interval.ts';
import { countUpperLimit, rateInterval } from './poisson-interval.ts';

/** What one search of a photograph gave, with no real piece among it any more. */
export interface SearchedBlank {
  /** Share of the photograph that was searched, above 0. */
  readonly searched: number;
  /** Finds that somebody called no particle. */
  readonly falseFinds: number;
  /** Finds that nobody has decided on. */
  readonly undecided: number;
}

/** False finds of one setting, by whole photographs searched. */
export interface FalseFindRate {
  /** The setting: false finds a blank photograph that the finder was asked to accept. */
  readonly asked: number;
  readonly photographs: number;
  /** Whole photographs that the searched shares make together. */
  readonly exposure: number;
  readonly falseFinds: number;
  readonly undecided: number;
  /** False finds a photograph were none of the undecided finds false. */
  readonly least: Interval;
  /** The same were all of them false. */
  readonly most: Interval;
  /**
   * Chance of at least this scatter between photographs were all finds to fall independently, undecided ones among them;
   * null for a single photograph. A small one says that the photographs differ, and that the intervals are too narrow.
   */
  readonly scatterP: number | null;
}

/**
 * The setting to ask for. `too-few`: even none found would not show a rate below the wanted one. `none-holds`: the
 * strictest setting still gives more than wanted.
 */
export type SettingThatHolds =
  | { readonly told: true; readonly ask: number }
  | { readonly told: false; readonly why: 'too-few'; readonly needed: number; readonly showsBelow: number }
  | { readonly told: false; readonly why: 'none-holds'; readonly strictest: number };

/** Settings that are tried, besides the wanted rate itself. Project choice. */
const TRIED = [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50] as const;
/**
 * So many times the wanted rate is asked for at most: beside pieces lie haloes and parts of pieces, which bare membrane does
 * not show and a generous setting lets in. Project choice.
 */
const MOST_GENEROUS = 4;
/** One-sided, for “fewer than”. */
const ASSURANCE = 0.95;

/**
 * False finds of one setting as a rate with its exact interval; undecided finds make it a range.
 * Source: Garwood 1936, Biometrika 28:437–442; scatter: Fisher, Thornton & Mackenzie 1922 (`dispersionTest`).
 * Holds for: false finds that fall independently, at one rate on all photographs.
 * Deceives when: photographs overlap (one flaw is counted twice) or flaws come in clumps, as scratches do.
 */
export function falseFindRate(
  asked: number,
  blanks: readonly SearchedBlank[],
  confidence: number,
): FalseFindRate {
  const sum = (of: (blank: SearchedBlank) => number): number => blanks.reduce((all, one) => all + of(one), 0);
  const exposure = sum((blank) => blank.searched);
  const falseFinds = sum((blank) => blank.falseFinds);
  const undecided = sum((blank) => blank.undecided);
  return {
    asked,
    photographs: blanks.length,
    exposure,
    falseFinds,
    undecided,
    least: rateInterval(falseFinds, exposure, confidence),
    most: rateInterval(falseFinds + undecided, exposure, confidence),
    scatterP:
      blanks.length < 2
        ? null
        : dispersionTest(
            blanks.map((blank) => blank.falseFinds + blank.undecided),
            blanks.map((blank) => blank.searched),
          ).p,
  };
}

/** Below what rate none found in so many photographs would show it to be: 3.0 divided by their number, at 95 % one-sided. */
export const shownByNone = (exposure: number): number => countUpperLimit(0, ASSURANCE) / exposure;

const holds = (rate: FalseFindRate, wanted: number): boolean => rate.most.value <= wanted;

const byAsked = (rates: readonly FalseFindRate[]): FalseFindRate[] =>
  rates.toSorted((a, b) => a.asked - b.asked);

/**
 * The setting to search at next; null: what there is tells enough. From the wanted rate it goes stricter until the rate
 * holds, or somewhat more generous until it does not any more: stricter ones find no more, so what lies beyond need not be
 * searched.
 */
export function nextToAsk(rates: readonly FalseFindRate[], wanted: number): number | null {
  checkWanted(wanted);
  if (rates.length === 0) return wanted;
  const sorted = byAsked(rates);
  if (shownByNone(sorted[0]!.exposure) > wanted) return null;
  if (!holds(sorted[0]!, wanted)) return TRIED.findLast((asked) => asked < sorted[0]!.asked) ?? null;
  if (!holds(sorted.at(-1)!, wanted)) return null;
  const last = sorted.at(-1)!.asked;
  return TRIED.find((asked) => asked > last && asked <= MOST_GENEROUS * wanted) ?? null;
}

/**
 * Rates of one setting after another, until they tell which holds. `searchAt` searches the photographs at a setting; what it
 * refuses ends the asking.
 */
export async function ratesBySetting(
  wanted: number,
  confidence: number,
  searchAt: (asked: number) => Promise<Outcome<readonly SearchedBlank[]>>,
): Promise<Outcome<readonly FalseFindRate[]>> {
  const rates: FalseFindRate[] = [];
  for (let ask = nextToAsk(rates, wanted); ask !== null; ask = nextToAsk(rates, wanted)) {
    const blanks = await searchAt(ask);
    if (!blanks.ok) return blanks;
    rates.push(falseFindRate(ask, blanks.value, confidence));
  }
  return done(rates);
}

/**
 * The most generous setting that gave no more than the wanted false finds a photograph, undecided finds counted as false.
 * The chosen rate is an estimate: its interval says how far off it may be, and a further set of photographs may give more.
 */
export function settingThatHolds(rates: readonly FalseFindRate[], wanted: number): SettingThatHolds {
  checkWanted(wanted);
  const sorted = byAsked(rates);
  const strictest = sorted[0];
  if (!strictest) throw new RangeError('rates: at least one setting must have been searched at, given none');
  const showsBelow = shownByNone(strictest.exposure);
  if (showsBelow > wanted) {
    return {
      told: false,
      why: 'too-few',
      needed: Math.ceil(countUpperLimit(0, ASSURANCE) / wanted),
      showsBelow,
    };
  }
  const over = sorted.findIndex((rate) => !holds(rate, wanted));
  const best = over === -1 ? sorted.at(-1) : sorted[over - 1];
  return best
    ? { told: true, ask: best.asked }
    : { told: false, why: 'none-holds', strictest: strictest.asked };
}

function checkWanted(wanted: number): void {
  if (!(wanted > 0)) throw new RangeError(`false finds wanted: a number above 0 is needed, given ${wanted}`);
}
