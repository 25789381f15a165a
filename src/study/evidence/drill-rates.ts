/** Error rates from known pieces: how often plastic is called plastic, and how often other things are. */
import { type CountingInput, clopperPearsonInterval, type Interval } from '../../science/counting/index.ts';
import type { DrillAnswer, KnownPiece, KnownSet } from '../records/known-set.ts';
import { isSynthetic, type MaterialClass } from './material-classes.ts';

export interface Tally {
  /** Called plastic. */
  readonly k: number;
  readonly n: number;
  readonly cannotTell: number;
  readonly rate: Interval | null;
}

/** The scorer on known pieces, as counting takes it. */
export type Drill = NonNullable<CountingInput['drill']>;

export interface DrillPart {
  readonly name: string;
  readonly plastic: Tally;
  readonly others: Tally;
}

export interface DrillRates {
  readonly plastic: Tally;
  readonly others: Tally;
  readonly byClass: readonly { readonly class: MaterialClass; readonly tally: Tally }[];
  readonly bySize: readonly DrillPart[];
  /** In the order of days: whether somebody drifts. */
  readonly byDay: readonly DrillPart[];
  readonly announced: DrillPart;
  readonly slippedIn: DrillPart;
  /** Pieces that one person called both ways. */
  readonly contradicts: readonly string[];
}

const CONFIDENCE = 0.95;
/** Above and below which errors are told apart, µm. */
const SIZE_STEPS = [100, 300, 1000] as const;

function tally(answers: readonly DrillAnswer[]): Tally {
  const n = answers.length;
  const k = answers.filter((answer) => answer.called === 'plastic').length;
  const cannotTell = answers.filter((answer) => answer.called === 'cannot-tell').length;
  return { k, n, cannotTell, rate: n === 0 ? null : clopperPearsonInterval(k, n, CONFIDENCE) };
}

export function sizeStep(sizeUm: number | null): string {
  if (sizeUm === null) return 'size not known';
  const over = SIZE_STEPS.findLast((step) => sizeUm >= step);
  const under = SIZE_STEPS.find((step) => sizeUm < step);
  if (over === undefined) return `below ${under} µm`;
  return under === undefined ? `${over} µm and more` : `${over} to ${under} µm`;
}

/**
 * Rates of the answers given, whoever gave them. “Cannot tell” is not a call of plastic. Intervals are exact (Clopper and
 * Pearson). Answers on pieces that are in no set are left out.
 * Holds for: drill pieces like the particles at hand. Deceives when: pieces were announced, easier, larger or cleaner.
 */
export function drillRates(sets: readonly KnownSet[], answers: readonly DrillAnswer[]): DrillRates {
  const pieces = new Map<string, KnownPiece>();
  for (const set of sets) for (const piece of set.pieces) pieces.set(`${set.id} ${piece.key}`, piece);
  const known = answers.flatMap((answer) => {
    const piece = pieces.get(`${answer.set} ${answer.piece}`);
    return piece ? [{ answer, piece, plastic: isSynthetic(piece.class) }] : [];
  });
  type Known = (typeof known)[number];
  const part = (name: string, some: readonly Known[]): DrillPart => ({
    name,
    plastic: tally(some.filter((one) => one.plastic).map((one) => one.answer)),
    others: tally(some.filter((one) => !one.plastic).map((one) => one.answer)),
  });
  const grouped = (key: (one: Known) => string): readonly DrillPart[] => {
    const groups = new Map<string, Known[]>();
    for (const one of known) groups.set(key(one), [...(groups.get(key(one)) ?? []), one]);
    return [...groups].map(([name, some]) => part(name, some));
  };
  const classes = [...new Set(known.map((one) => one.piece.class))];
  const calls = new Map<string, Set<string>>();
  for (const { answer } of known) {
    const key = `${answer.by} ${answer.set} ${answer.piece} ${answer.test}`;
    calls.set(key, (calls.get(key) ?? new Set()).add(answer.called));
  }
  const all = part('all', known);
  return {
    plastic: all.plastic,
    others: all.others,
    byClass: classes.map((one) => ({
      class: one,
      tally: tally(known.filter(({ piece }) => piece.class === one).map(({ answer }) => answer)),
    })),
    bySize: grouped(({ piece }) => sizeStep(piece.sizeUm)),
    byDay: grouped(({ answer }) => answer.at.slice(0, 10)).toSorted((a, b) => (a.name < b.name ? -1 : 1)),
    announced: part(
      'announced',
      known.filter(({ answer }) => answer.announced),
    ),
    slippedIn: part(
      'slipped in',
      known.filter(({ answer }) => !answer.announced),
    ),
    contradicts: [...calls].flatMap(([key, called]) =>
      called.has('plastic') && called.has('other') ? [key.split(' ')[2]!] : [],
    ),
  };
}

/** Fewer than this of either kind say too little to correct a claim by. Project choice. */
export const FEWEST_FOR_CLAIM = 10;

export const enoughForClaim = ({ plastic, others }: Pick<DrillRates, 'plastic' | 'others'>): boolean =>
  plastic.n >= FEWEST_FOR_CLAIM && others.n >= FEWEST_FOR_CLAIM;
