import type { Step } from '../records/procedure.ts';
import { SUBSTANCE_WORDS, type Substance, substancesOf } from './substances.ts';

interface Pair {
  readonly a: Substance;
  readonly b: Substance;
  /** Stopped when they meet in one step or session; `same-step` only where the very step holds both. */
  readonly meets: 'session' | 'same-step';
  readonly danger: string;
  readonly instead: string;
}

/**
 * Pairs that are stopped. From the trade's usual warnings (NOAA TM NOS-OR&R-48 as quoted for peroxide with iron; the others common
 * practice): project rules, not published limits. They never replace a safety data sheet.
 */
export const DANGEROUS_PAIRS: readonly Pair[] = [
  {
    a: 'peroxide',
    b: 'solvent',
    meets: 'session',
    danger: 'peroxide with a solvent can explode',
    instead: 'Rinse peroxide out with water and use solvents on another day.',
  },
  {
    a: 'peroxide',
    b: 'chlorinated',
    meets: 'session',
    danger: 'peroxide with a solvent can explode',
    instead: 'Leave chlorinated solvents out altogether.',
  },
  {
    a: 'peroxide',
    b: 'alkali',
    meets: 'same-step',
    danger: 'alkali breaks peroxide up with heat and foam',
    instead: 'Neutralise and rinse between the two.',
  },
  {
    a: 'peroxide',
    b: 'iodide',
    meets: 'session',
    danger: 'peroxide sets iodine vapour free',
    instead: 'Wash peroxide out until a test strip shows none, then float.',
  },
  {
    a: 'peroxide',
    b: 'sealed',
    meets: 'same-step',
    danger: 'gas bursts the vessel: a millilitre of 30 % peroxide gives up to 100 mL',
    instead: 'Cover loosely with a watch glass or rinsed foil.',
  },
  {
    a: 'hypochlorite',
    b: 'acid',
    meets: 'session',
    danger: 'chlorine gas',
    instead: 'Use one of the two, never both in one session or sink.',
  },
  {
    a: 'hypochlorite',
    b: 'ammonia',
    meets: 'session',
    danger: 'chloramine gas',
    instead: 'Rinse with water only.',
  },
  {
    a: 'toilet-cleaner',
    b: 'acid',
    meets: 'session',
    danger: 'one with hypochlorite sets chlorine free',
    instead: 'Use one of the two, never both in one session or sink.',
  },
  {
    a: 'toilet-cleaner',
    b: 'hypochlorite',
    meets: 'session',
    danger: 'most hold an acid, which sets chlorine free',
    instead: 'Use one of the two, never both in one session or sink.',
  },
  {
    a: 'toilet-cleaner',
    b: 'ammonia',
    meets: 'session',
    danger: 'one with hypochlorite gives chloramine gas',
    instead: 'Rinse with water only.',
  },
  {
    a: 'hypochlorite',
    b: 'solvent',
    meets: 'session',
    danger: 'bleach makes chloroform and other poisons of solvents',
    instead: 'Keep them apart by days.',
  },
  {
    a: 'hypochlorite',
    b: 'peroxide',
    meets: 'session',
    danger: 'they set oxygen free violently',
    instead: 'Use one of the two.',
  },
  {
    a: 'hypochlorite',
    b: 'iodide',
    meets: 'session',
    danger: 'iodine vapour',
    instead: 'Wash bleach out first.',
  },
  {
    a: 'flame',
    b: 'solvent',
    meets: 'session',
    danger: 'vapour catches fire across a room',
    instead:
      'No flame in the room on a day with solvents; use a temperature-controlled tip and solvent-free steps.',
  },
  {
    a: 'flame',
    b: 'chlorinated',
    meets: 'session',
    danger: 'a flame makes phosgene of the vapour',
    instead: 'Leave chlorinated solvents out altogether.',
  },
  {
    a: 'flame',
    b: 'nitrocellulose',
    meets: 'session',
    danger: 'cellulose nitrate burns fiercely',
    instead: 'Move the piece to glass or steel in another place, away from filters.',
  },
  {
    a: 'hot-needle',
    b: 'nitrocellulose',
    meets: 'same-step',
    danger: 'the filter melts or burns under the needle',
    instead: 'Move the piece to a glass slide first.',
  },
  {
    a: 'hot-needle',
    b: 'solvent',
    meets: 'session',
    danger: 'vapour catches fire at a hot tip',
    instead: 'Needle and solvents on different days.',
  },
  {
    a: 'alkali',
    b: 'aluminium',
    meets: 'session',
    danger: 'alkali eats aluminium and sets hydrogen free',
    instead: 'Cover with glass, not with foil.',
  },
  {
    a: 'alkali',
    b: 'chlorinated',
    meets: 'session',
    danger: 'alkali and chlorinated solvents react violently',
    instead: 'Leave chlorinated solvents out altogether.',
  },
  {
    a: 'mouth',
    b: 'laboratory-glass',
    meets: 'session',
    danger: 'what has held reagents must not come to a mouth',
    instead: 'Use food-grade ware that has never been in a laboratory, in a place for food.',
  },
];

export interface Stop {
  readonly why: 'dangerous-pair' | 'runaway' | 'home-solvent' | 'tasting';
  readonly message: string;
  /** Keys of the steps that bring the two together. */
  readonly steps: readonly string[];
}

/** Everything in these steps (one session) that must not go on as it is written. */
export function stopsIn(steps: readonly Step[]): readonly Stop[] {
  const met = steps.map((step) => ({ step, holds: substancesOf(step) }));
  const stops: Stop[] = [];
  for (const pair of DANGEROUS_PAIRS) {
    const together = met.filter(({ holds }) => holds.includes(pair.a) && holds.includes(pair.b));
    const withA = met.filter(({ holds }) => holds.includes(pair.a));
    const withB = met.filter(({ holds }) => holds.includes(pair.b));
    const keys =
      together.length > 0
        ? [...new Set(together.map(({ step }) => step.key))]
        : pair.meets === 'session' && withA.length > 0 && withB.length > 0
          ? [...new Set([...withA, ...withB].map(({ step }) => step.key))]
          : [];
    if (keys.length === 0) continue;
    stops.push({
      why: 'dangerous-pair',
      message: `${upper(SUBSTANCE_WORDS[pair.a])} and ${SUBSTANCE_WORDS[pair.b]} (${keys.join(', ')}): ${pair.danger}. ${pair.instead}`,
      steps: keys,
    });
  }
  for (const { step, holds } of met) {
    const t = step.quantities.temperature_c;
    if (holds.includes('peroxide') && holds.includes('iron') && t !== undefined && t >= 50) {
      stops.push({
        why: 'runaway',
        message: `Step “${step.key}”: peroxide with iron at ${t} °C can run away with heat and spray. Keep it below 40 °C with an ice bath ready, in small portions.`,
        steps: [step.key],
      });
    }
    if (holds.includes('chlorinated')) {
      stops.push({
        why: 'home-solvent',
        message: `Step “${step.key}”: chlorinated solvents are not for this kind of laboratory; choose another test.`,
        steps: [step.key],
      });
    }
  }
  return stops;
}

const upper = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
