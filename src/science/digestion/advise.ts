import { done, type Outcome, refused } from '../../units/index.ts';
import { type HarmCell, harmTo, POLYMER_WORDS, type PolymerGroup } from './harm.ts';
import { MATRIX_FACTS, type Matrix, type MatrixFacts } from './matrices.ts';
import {
  EQUIPMENT_WORDS,
  type Equipment,
  REAGENT_FACTS,
  type ReagentFacts,
  SETTINGS,
  type Setting,
} from './reagents.ts';

export interface DigestionWish {
  readonly matrix: Matrix;
  /** What the question is about; empty: not known, so every polymer counts. */
  readonly polymers: readonly PolymerGroup[];
  readonly setting: Setting;
  /** What is at hand; null: nobody asked, so that nothing is said to lack. */
  readonly equipment: readonly Equipment[] | null;
  /** Wet mass of the matrix in one run; null: not said. */
  readonly massG: number | null;
}

export type Standing = 'open' | 'not-asked' | 'needs-equipment' | 'not-here' | 'harms';

export interface DigestionOption {
  readonly facts: ReagentFacts;
  readonly standing: Standing;
  /** Why it is not open, in one sentence; null where it is. */
  readonly because: string | null;
  readonly lacking: readonly Equipment[];
  readonly harm: readonly { readonly polymer: PolymerGroup; readonly cell: HarmCell }[];
  /** mL for the stated mass; null where the label says or no mass was given. */
  readonly volumeMl: number | null;
  readonly goNoGo: readonly string[];
}

export interface DigestionAdvice {
  readonly matrix: MatrixFacts;
  readonly options: readonly DigestionOption[];
  readonly avoid: readonly { readonly facts: ReagentFacts; readonly harm: DigestionOption['harm'] }[];
  readonly coupon: readonly string[];
}

/**
 * Options for a matrix with what each asks, does to the polymers in question and adds to the blank. The order is the matrix's, open
 * ones first. Nothing here replaces a safety data sheet, local rules or licensed practice.
 */
export function adviseDigestion(wish: DigestionWish): Outcome<DigestionAdvice> {
  if (wish.massG !== null && !(wish.massG > 0 && wish.massG <= 1000))
    return refused({
      why: 'out-of-range',
      message: `The matrix of one run weighs ${wish.massG} g: from above 0 to 1000 g is taken; give the wet mass that goes into one vessel.`,
    });
  const matrix = MATRIX_FACTS[wish.matrix];
  const polymers = wish.polymers.length > 0 ? wish.polymers : (Object.keys(POLYMER_WORDS) as PolymerGroup[]);
  const harmOf = (facts: ReagentFacts) =>
    polymers.map((polymer) => ({ polymer, cell: harmTo(polymer, facts.reagent) }));
  const options = matrix.options.map((reagent) =>
    optionOf(REAGENT_FACTS[reagent], wish, harmOf(REAGENT_FACTS[reagent])),
  );
  const rank = (option: DigestionOption) =>
    ['open', 'not-asked', 'needs-equipment', 'harms', 'not-here'].indexOf(option.standing);
  return done({
    matrix,
    options: options
      .map((option, i) => ({ option, i }))
      .sort((a, b) => rank(a.option) - rank(b.option) || a.i - b.i)
      .map(({ option }) => option),
    avoid: matrix.avoid.map((reagent) => ({
      facts: REAGENT_FACTS[reagent],
      harm: harmOf(REAGENT_FACTS[reagent]),
    })),
    coupon: COUPON,
  });
}

function optionOf(facts: ReagentFacts, wish: DigestionWish, harm: DigestionOption['harm']): DigestionOption {
  const { equipment } = wish;
  const lacking = equipment === null ? [] : facts.needs.filter((one) => !equipment.includes(one));
  const harmed = wish.polymers.length === 0 ? [] : harm.filter(({ cell }) => cell.harm === 'harm');
  const here = facts.from !== null && SETTINGS.indexOf(wish.setting) >= SETTINGS.indexOf(facts.from);
  const [standing, because]: [Standing, string | null] = !here
    ? ['not-here', `Not in a ${wish.setting}: it belongs in a ${facts.from ?? 'place of another kind'}.`]
    : harmed.length > 0
      ? [
          'harms',
          `The polymer in question may be destroyed: ${harmed.map(({ polymer }) => POLYMER_WORDS[polymer]).join(', ')}. What it deletes cannot be found.`,
        ]
      : lacking.length > 0
        ? ['needs-equipment', `It needs ${lacking.map((one) => EQUIPMENT_WORDS[one]).join(', ')}.`]
        : equipment === null && facts.needs.length > 0
          ? ['not-asked', `It needs ${facts.needs.map((one) => EQUIPMENT_WORDS[one]).join(', ')}.`]
          : ['open', null];
  return {
    facts,
    standing,
    because,
    lacking,
    harm,
    volumeMl: wish.massG === null || facts.mlPerG === null ? null : facts.mlPerG * wish.massG,
    goNoGo: goNoGo(facts),
  };
}

/** Each asks for a yes; a no stops. */
function goNoGo(facts: ReagentFacts): string[] {
  if (facts.reagent === 'none')
    return ['Does a test of 5 mL pass the filter, and can its squares be seen through what stays on it?'];
  return [
    'Does the undigested liquid really fail to pass, or hide the filter? If not, leave digestion out.',
    'Has a spoonful of the matrix alone, without product, come through this digestion clear enough to see the print?',
    'Have coupons of the polymers in question come through unchanged?',
    'Does every control get the same reagent lot, volume, temperature and time?',
    ...(facts.ceilingC === null
      ? []
      : [`Will the liquid stay below ${facts.ceilingC} °C all the time, with a thermometer in it?`]),
    ...(facts.from === 'laboratory'
      ? ['Are data sheet, protection, ventilation, emergency and waste settled in writing?']
      : []),
  ];
}

/** Common practice, no source: how to see whether a digestion deletes the suspect. */
export const COUPON: readonly string[] = [
  'Cut ten pieces of 1 to 3 mm of each polymer in question; photograph them on the scale and weigh them together.',
  'Put them through the same reagent, volume, temperature and time, in a vessel of their own.',
  'Rinse, dry and weigh again; photograph at the same scale. Count them, and look at edges and colour.',
  'Unharmed: all ten found, mass within 2 %, area within 5 %, edges and colour as before.',
];

export interface CouponPair {
  readonly pieces: readonly [before: number, after: number];
  readonly massMg: readonly [before: number, after: number] | null;
  readonly areaMm2: readonly [before: number, after: number] | null;
  /** Readability of the balance, mg. */
  readonly balanceMg: number;
  readonly looksChanged: boolean;
}

export interface CouponVerdict {
  readonly verdict: 'unharmed' | 'harmed' | 'cannot-say';
  readonly message: string;
}

export const COUPON_VERDICTS: Readonly<Record<CouponVerdict['verdict'], string>> = {
  unharmed: 'unharmed',
  harmed: 'harmed',
  'cannot-say': 'not judged',
};

const MASS_LIMIT = 0.02;
const AREA_LIMIT = 0.05;

/** Judges a coupon by count, mass, area and look. Limits: common practice, no source. */
export function judgeCoupon(pair: CouponPair): CouponVerdict {
  const [before, after] = pair.pieces;
  if (!(before > 0 && after >= 0 && pair.balanceMg > 0))
    throw new RangeError(
      `coupon: pieces from 1 and a balance above 0 mg are needed, given ${before} and ${pair.balanceMg}`,
    );
  const change = (of: readonly [number, number]) => of[1] / of[0] - 1;
  const percent = (share: number) => `${share >= 0 ? '+' : '−'}${Math.abs(100 * share).toFixed(1)} %`;
  if (after < before)
    return {
      verdict: 'harmed',
      message: `${before - after} of ${before} pieces are gone: this digestion deletes the suspect, or the rinse loses it; repeat with water alone.`,
    };
  if (pair.looksChanged)
    return { verdict: 'harmed', message: 'Edges or colour changed: class and size on the filter would too.' };
  const seesMass = pair.massMg !== null && pair.massMg[0] * MASS_LIMIT >= 2 * pair.balanceMg;
  if (seesMass && Math.abs(change(pair.massMg!)) > MASS_LIMIT)
    return {
      verdict: 'harmed',
      message: `The mass changed by ${percent(change(pair.massMg!))}: more than 2 %.`,
    };
  if (pair.areaMm2 !== null && Math.abs(change(pair.areaMm2)) > AREA_LIMIT)
    return {
      verdict: 'harmed',
      message: `The area changed by ${percent(change(pair.areaMm2))}: more than 5 %.`,
    };
  if (!seesMass && pair.areaMm2 === null)
    return {
      verdict: 'cannot-say',
      message: `Neither mass nor area speaks: with a balance that reads ${pair.balanceMg} mg, at least ${(2 * pair.balanceMg) / MASS_LIMIT} mg of pieces are needed to see 2 %; or photograph them before and after.`,
    };
  return {
    verdict: 'unharmed',
    message: 'All pieces are there, and neither mass nor area nor look changed beyond the limits.',
  };
}
