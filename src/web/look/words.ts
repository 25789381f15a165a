import type { ClaimJson, CountJson, FilterJson, RunJson } from '../../api/index.ts';
import { figure, percent, lengthWords as shownLength } from '../../report/index.ts';

export const KIND_WORDS: { readonly [K in RunJson['kind']]: string } = {
  'specimen-run': 'specimen run',
  'reagent-blank': 'reagent blank',
  'procedural-blank': 'procedural blank',
  'matrix-blank': 'matrix blank',
  'act-control': 'act control',
  'air-control': 'open dish',
  'filter-blank': 'filter blank',
  'spiked-run': 'spiked run',
  'known-material': 'known material',
};

/** What each kind of control is for, for people who plan their first. */
export const KIND_SHOWS: { readonly [K in RunJson['kind']]: string } = {
  'specimen-run': 'The product, carried through every step.',
  'reagent-blank': 'Liquids and reagents alone: what they bring.',
  'procedural-blank': 'Every step without product or food: what the work itself adds.',
  'matrix-blank': 'The food or liquid without the product: what it brings.',
  'act-control': 'The same act on an inert body: what the act adds without the product.',
  'air-control': 'A dish left open beside the work: what falls from the air.',
  'filter-blank': 'A filter from the same lot, only photographed.',
  'spiked-run': 'Known pieces put in: how many come back.',
  'known-material': 'A known material worked the same way: how its pieces look here.',
};

export type ClaimState = ClaimJson['state'];
export const STATE_WORDS: { readonly [S in ClaimState]: string } = {
  'cannot-be-judged': 'Cannot be judged',
  'not-measured': 'Not measured',
  'not-detected': 'Not detected',
  'not-distinguishable': 'Not told from background',
  'detected-not-quantified': 'Detected, not quantified',
  quantified: 'Quantified',
};

/** The states in the order of what they let you say. */
export const LADDER: readonly ClaimState[] = [
  'cannot-be-judged',
  'not-measured',
  'not-detected',
  'not-distinguishable',
  'detected-not-quantified',
  'quantified',
];

export const IDENTIFIED_WORDS: { readonly [K in ClaimJson['identified_by']]: string } = {
  'by-eye': 'identified by eye',
  melts: 'identified by melting',
  polymer: 'identified as a polymer',
};

/** A count in words: the three zeros never look alike. */
export function countWords(count: CountJson): string {
  if (count.state === 'not-looked') return 'not looked';
  return count.count === 0 ? 'none seen' : figure(count.count);
}

/** Particles in the whole run, from what was counted on the part that passed and was examined; null: nobody looked. */
export function wholeRun(run: { count: CountJson; passed: number; examined: number }): number | null {
  const { count, passed, examined } = run;
  if (count.state === 'not-looked' || passed <= 0 || examined <= 0) return null;
  return count.count / (passed * examined);
}

/** A share that may not have been looked at: 0 is said in words. */
export const shareWords = (share: number): string => (share === 0 ? 'none yet' : percent(share));

/** How many runs of a kind, in words. */
export const manyOf = (n: number, kind: RunJson['kind']): string =>
  many(n, KIND_WORDS[kind], kind === 'air-control' ? 'open dishes' : `${KIND_WORDS[kind]}s`);

export const upper = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

export const many = (n: number, one: string, more = `${one}s`): string =>
  `${figure(n)} ${n === 1 ? one : more}`;

/** A sentence whose figures stay on one line with their units. */
export const unbroken = (sentence: string): string =>
  sentence
    .replaceAll(/(\d) (?=%|[µm]?m\b|mL\b|g\b)/g, '$1\u00a0')
    .replaceAll(/\bp ([=<]) (?=\d)/g, 'p\u00a0$1\u00a0');

/** µm below a millimetre, mm above. */
export function lengthWords(um: number | null): string {
  if (um === null) return 'no scale';
  return shownLength(um);
}

/** A session by its name; one that is called “session 1” is not said twice. */
/** What a count holds, in words: “100 µm and more”. */
export const scopeWords = ({ from_um, to_um, some }: FilterJson['scope']): string =>
  `${to_um === null ? `${lengthWords(from_um)} and more` : `${lengthWords(from_um)} to ${lengthWords(to_um)}`}${some ? ', in the shapes and colours asked about' : ''}`;

/** Why fewer are counted than were kept; nothing where all are. */
export const withinWords = (counted: number, found: number, scope: FilterJson['scope']): string =>
  counted === found ? '' : `${counted} of ${found} not dropped lie within ${scopeWords(scope)}`;

export const sessionWords = (session: string): string =>
  /^session\b/i.test(session) ? session : `session ${session}`;

/** A moment as records carry it, to the minute. */
export const momentWords = (at: string): string => at.slice(0, 16).replace('T', ' ');
