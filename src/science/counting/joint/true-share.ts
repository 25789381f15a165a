import { done, type Outcome, type Refusal, refused } from '../../../units/index.ts';
import type { Interval } from '../interval.ts';
import { type Knowledge, shareBelow } from './knowledge.ts';
import { shareKnowledge, type Tally } from './share-knowledge.ts';

/** Pieces that a test called true, of those tested. */
export interface Tested {
  readonly positive: number;
  readonly tested: number;
}

/** The scorer on known pieces: [called true, shown]. */
export interface Drill {
  readonly truePositive: readonly [number, number];
  readonly falsePositive: readonly [number, number];
}

export interface TrueShare {
  /** Share of true pieces among the candidates, 0 to 1. */
  readonly share: Interval;
  /** (observed − false)/(true − false) before it is held to 0…1. */
  readonly uncut: number;
  /** True when the value was held at 0 or 1, which a sentence must say. */
  readonly held: boolean;
  /** True when fewer were called true than false calls alone would give: only the upper limit speaks. */
  readonly belowFloor: boolean;
}

export interface TrueShareRefusal extends Refusal {
  readonly why: 'nothing-tested' | 'drill-missing' | 'drill-contradicts';
}

/** P(share ≤ p) as a function of p, erring low and high. */
export interface ShareBelow {
  readonly low: (p: number) => number;
  readonly high: (p: number) => number;
}

/**
 * Distribution of the share (O − F)/(T − F) from three independent shares: called true among the candidates (O), among
 * known true pieces (T), among known others (F). Each end takes every part at its exact unfavourable side.
 */
export function trueShareBelow(observed: Tally, truePositive: Tally, falsePositive: Tally): ShareBelow {
  const o = shareKnowledge(observed);
  const t = shareKnowledge(truePositive);
  const f = shareKnowledge(falsePositive);
  return { low: below(o.low, t.high, f.high), high: below(o.high, t.low, f.low) };
}

function below(o: Knowledge, t: Knowledge, f: Knowledge): (p: number) => number {
  const ts = cells(t);
  const fs = cells(f);
  return (p) => {
    let sum = 0;
    for (let j = 0; j < fs.middle.length; j++) {
      const base = (1 - p) * fs.middle[j]!;
      let inner = 0;
      for (let i = 0; i < ts.middle.length; i++)
        inner += ts.weight[i]! * shareBelow(o, base + p * ts.middle[i]!);
      sum += fs.weight[j]! * inner;
    }
    return sum;
  };
}

/** The cells of a table that hold anything to speak of, with their middles. */
function cells(k: Knowledge): { middle: Float64Array; weight: Float64Array } {
  const middle: number[] = [];
  const weight: number[] = [];
  let sum = 0;
  for (let i = 1; i < k.at.length; i++) {
    const w = k.share[i]! - k.share[i - 1]!;
    if (w < 1e-6) continue;
    middle.push((k.at[i]! + k.at[i - 1]!) / 2);
    weight.push(w);
    sum += w;
  }
  return { middle: Float64Array.from(middle), weight: Float64Array.from(weight, (w) => w / sum) };
}

/**
 * Share of true pieces among candidates under an imperfect test whose errors were measured in a drill. The corrected
 * share is Rogan and Gladen's; the interval adds the sampling of all three shares (melded exact limits).
 *
 * Sources: Rogan & Gladen 1978, Am. J. Epidemiol. 107:71 (share); Fay, Proschan & Brittain 2015, Biometrics 71:146
 * (melding). Holds for: candidates tested at random; drill pieces like the candidates. Coverage by simulation is in
 * docs/calibration.md (drills of 20–60 pieces). Deceives when: drill pieces are easier than real ones, or the tested
 * pieces were chosen because they looked interesting. Correcting the share but keeping the plain binomial interval
 * covers far too rarely.
 */
export function trueShare(
  tested: Tested,
  drill: Drill,
  confidence: number,
): Outcome<TrueShare, TrueShareRefusal> {
  if (!(confidence > 0.5 && confidence < 1)) {
    throw new RangeError(`confidence: above 0.5 and below 1 is needed, given ${confidence}`);
  }
  const [hits, shownTrue] = drill.truePositive;
  const [wrong, shownFalse] = drill.falsePositive;
  if (tested.tested === 0) {
    return refused({
      why: 'nothing-tested',
      message: 'No candidate was tested, so the share of true pieces is not known: test a random dozen.',
    });
  }
  if (shownTrue === 0 || shownFalse === 0) {
    return refused({
      why: 'drill-missing',
      message: 'The drill needs both known true pieces and known others: score at least 20 of each.',
    });
  }
  const sensitivity = hits / shownTrue;
  const falseRate = wrong / shownFalse;
  if (sensitivity <= falseRate) {
    return refused({
      why: 'drill-contradicts',
      message: `The drill called ${hits} of ${shownTrue} true pieces and ${wrong} of ${shownFalse} others true, so this test does not tell them apart: use another test or practise.`,
    });
  }
  const observed = tested.positive / tested.tested;
  const uncut = (observed - falseRate) / (sensitivity - falseRate);
  const curves = trueShareBelow(
    { k: tested.positive, n: tested.tested },
    { k: hits, n: shownTrue },
    { k: wrong, n: shownFalse },
  );
  const tail = (1 - confidence) / 2;
  const value = Math.min(1, Math.max(0, uncut));
  return done({
    share: {
      value,
      lower: Math.min(value, crossing(curves.low, tail)),
      upper: Math.max(value, crossing(curves.high, 1 - tail)),
      confidence,
    },
    uncut,
    held: value !== uncut,
    belowFloor: uncut <= 0,
  });
}

/** Where a curve rising on 0…1 passes a level; an end when it does not. */
function crossing(curve: (p: number) => number, level: number): number {
  let low = 0;
  let high = 1;
  if (curve(0) >= level) return 0;
  if (curve(1) <= level) return 1;
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2;
    if (curve(middle) < level) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
