/** The ten questions that a first study asks its owner, and what stands where nobody has answered yet. */
import type { Equipment, Matrix, PolymerGroup, Reagent, Setting } from '../../science/digestion/index.ts';
import type { SafetyAnswers } from '../safety/index.ts';

/** What is done to the product. */
export const ACTS = ['steep', 'cut', 'rub', 'wash', 'open-and-close', 'shake', 'mouth'] as const;
export type Act = (typeof ACTS)[number];

export const ACT_WORDS: Readonly<Record<Act, string>> = {
  steep: 'stand or steep in a liquid',
  cut: 'be cut on, or be cut',
  rub: 'be rubbed, scrubbed or wiped',
  wash: 'be washed',
  'open-and-close': 'be opened and closed',
  shake: 'be shaken or stirred',
  mouth: 'be held in the mouth',
};

/** How particles are looked at; decides how small they may be. */
export const SEEING = ['macro', 'stereo', 'compound'] as const;
export type Seeing = (typeof SEEING)[number];

export const SEEING_WORDS: Readonly<Record<Seeing, string>> = {
  macro: 'telephone or camera with a macro lens',
  stereo: 'stereo microscope, 10 to 40 times',
  compound: 'compound microscope, 100 times and more',
};

/** What a person may set otherwise than the plan proposes; left out: as proposed. */
export interface Changed {
  readonly sizeFromUm?: number;
  readonly specimens?: number;
  readonly controls?: number;
  readonly blanks?: number;
  readonly spikes?: number;
  readonly reagent?: Reagent;
  readonly poreUm?: number;
  readonly filter?: string;
  /** Pieces that a control is expected to hold, and that a gram of product is expected to release. */
  readonly background?: number;
  readonly releasePerGram?: number;
}

export interface PlanAnswers {
  /** 1 What may shed? */
  readonly product: string;
  readonly polymers: readonly PolymerGroup[];
  /** 2 What is done to it, for how long? */
  readonly act: Act;
  readonly actWords: string;
  readonly minutes: number;
  /** 3 Into what, how much of it? */
  readonly matrix: Matrix;
  readonly liquidWords: string;
  readonly volumeMl: number;
  /** Wet mass of food or other matrix in one run; 0: none. */
  readonly matrixG: number;
  /** 4 How hot does it get? */
  readonly hottestC: number;
  /** 5 How do you look at the filter? 6 Would you test pieces with a hot needle? */
  readonly seeing: Seeing;
  readonly needle: boolean;
  /** 7 Where, and with what? */
  readonly setting: Setting;
  readonly equipment: readonly Equipment[];
  /** 8 How many pieces of the product are there, and how heavy is one run’s portion? */
  readonly pieces: number;
  readonly massG: number;
  readonly unit: 'particles per gram' | 'particles per portion';
  /** 9 How many hours are there, over how many sittings? */
  readonly hours: number;
  readonly sessions: number;
  /** 10 Who works? */
  readonly person: string;
  readonly place: string;
  readonly safety: SafetyAnswers;
  readonly changed: Changed;
}

export const FIRST_ANSWERS: PlanAnswers = {
  product: '',
  polymers: [],
  act: 'steep',
  actWords: '',
  minutes: 10,
  matrix: 'clean-water',
  liquidWords: 'filtered water',
  volumeMl: 200,
  matrixG: 0,
  hottestC: 20,
  seeing: 'macro',
  needle: false,
  setting: 'kitchen',
  equipment: [],
  pieces: 6,
  massG: 1,
  unit: 'particles per gram',
  hours: 40,
  sessions: 3,
  person: '',
  place: 'quiet corner, windows shut',
  safety: {},
  changed: {},
};
