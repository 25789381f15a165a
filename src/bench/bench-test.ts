/** What a bench test declares: what it asks, how answers are judged, where it holds, what can hurt, where it comes from. */
import type { Shape } from '../science/imaging/finding.ts';
import { CLASS_WORDS, type MaterialClass, SYNTHETIC } from '../study/index.ts';

/** What can make two tests err together: tests of one kind are never multiplied as if they were independent. */
export type ErrsBy = 'look' | 'heat' | 'density' | 'solvent' | 'stain' | 'touch' | 'magnet' | 'spectrum';

export interface Choice {
  readonly value: string;
  readonly words: string;
}

/** What the test asks for. */
export type AnswerForm =
  | { readonly kind: 'yes-no'; readonly yes: string; readonly no: string }
  | { readonly kind: 'one-of'; readonly choices: readonly Choice[] }
  | {
      readonly kind: 'quantity';
      readonly unit: string;
      readonly what: string;
      readonly from: number;
      readonly to: number;
    }
  | { readonly kind: 'spectrum' };

/** What every test can end with besides its own answers: none of them speaks for or against anything. */
export const NO_RESULTS: readonly Choice[] = [
  { value: 'ambiguous', words: 'Ambiguous: I could not say' },
  { value: 'moved-by-air', words: 'It only moved in the air' },
  { value: 'lost', words: 'The piece was lost' },
];

/** An answer as it was given. `setting` names what the test was done with, such as the liquid. */
export interface Answer {
  readonly value: string | number;
  readonly setting: string | null;
}

export type Speaks = 'for' | 'against' | 'nothing';

/** What an answer says: for or against plastic as a whole, and which classes it favours or speaks against. */
export interface Judged {
  readonly plastic: Speaks;
  readonly favours: readonly MaterialClass[];
  readonly against: readonly MaterialClass[];
  readonly says: string;
}

export interface GuidedStep {
  readonly say: string;
  /** A timer of so many seconds runs beside it. */
  readonly seconds: number | null;
  /** A photograph is asked for here. */
  readonly photo: 'before' | 'after' | null;
  /** The hot, wet or final step: the screen asks whether the photograph is taken. */
  readonly noWayBack: boolean;
}

export interface Range {
  /** Smallest maximum Feret diameter by shape, µm; other shapes as `fragment`. */
  readonly fromUm: Partial<Readonly<Record<Shape, number>>> & { readonly fragment: number };
  readonly toUm: number | null;
  /** Words in a filter's material on which the test must not be done, with the reason. */
  readonly notOn: readonly { readonly word: string; readonly because: string }[];
}

/** A published error rate: a starting point that is labelled as such and gives way to the laboratory's own drill. */
export interface PublishedRate {
  readonly what: 'kept-of-plastic' | 'kept-of-others';
  readonly share: number;
  /** As many pieces as it is worth, few on purpose: other people, other pieces. */
  readonly worth: number;
  readonly source: string;
}

export interface BenchTest {
  readonly id: string;
  /** Goes up when questions or judgement change; answers keep the edition that they were given under. */
  readonly edition: number;
  readonly name: string;
  readonly asks: string;
  readonly answer: AnswerForm;
  /** Named choices of what it is done with; empty: none. */
  readonly settings: readonly Choice[];
  readonly errsBy: ErrsBy;
  /** After it the piece cannot be tested again. */
  readonly destroys: boolean;
  /** What a random subset confirmed by it lets the claim say. */
  readonly identifies: 'melts' | 'polymer' | null;
  readonly needs: string;
  readonly holds: Range;
  readonly steps: readonly GuidedStep[];
  readonly hazards: readonly string[];
  readonly blindSpots: string;
  readonly published: readonly PublishedRate[];
  readonly source: string;
  readonly judge: (answer: Answer) => Judged;
}

export const NOTHING_SAID: Judged = { plastic: 'nothing', favours: [], against: [], says: 'Says nothing.' };

const named = (classes: readonly MaterialClass[]): string =>
  classes.map((one) => CLASS_WORDS[one]).join(', ');

/** Words an answer from the classes it favours and speaks against; plastic as a whole follows from them. */
export function judged(favours: readonly MaterialClass[], against: readonly MaterialClass[]): Judged {
  const synthetic = favours.some((one) => SYNTHETIC.includes(one));
  const others = favours.some((one) => !SYNTHETIC.includes(one));
  const plastic: Speaks = against.includes('thermoplastic')
    ? 'against'
    : synthetic && (against.length > 0 || !others)
      ? 'for'
      : 'nothing';
  const parts = [
    favours.length > 0 ? `Speaks for ${named(favours)}` : '',
    against.length > 0 ? `${favours.length > 0 ? 'against' : 'Speaks against'} ${named(against)}` : '',
  ].filter((part) => part !== '');
  return {
    plastic,
    favours,
    against,
    says: parts.length === 0 ? 'Says nothing.' : `${parts.join('; ')}.`,
  };
}

export const step = (say: string, more: Partial<Omit<GuidedStep, 'say'>> = {}): GuidedStep => ({
  say,
  seconds: null,
  photo: null,
  noWayBack: false,
  ...more,
});

export const LOCAL_RULES =
  'Safety data sheets, local rules and supervised practice come first; what stands here never replaces them.';
