/** What the answers lead to, each with its reason; a person may set any of them otherwise. */
import {
  adviseDigestion,
  type DigestionOption,
  POLYMER_WORDS,
  REAGENT_FACTS,
} from '../../science/digestion/index.ts';
import type { Changed, PlanAnswers, Seeing } from './answers.ts';

export interface Choice {
  readonly key: keyof Changed;
  readonly label: string;
  /** As proposed or as changed, in words. */
  readonly shown: string;
  readonly because: string;
  /** True where a person set it. */
  readonly changed: boolean;
}

export interface Chosen {
  readonly sizeFromUm: number;
  readonly specimens: number;
  readonly controls: number;
  readonly blanks: number;
  readonly spikes: number;
  readonly option: DigestionOption | null;
  readonly poreUm: number;
  readonly filter: string;
  readonly choices: readonly Choice[];
  /** What could not be had as a first study should have it. */
  readonly short: readonly string[];
}

/** Sizes down to which each way of looking counts acceptably (Kotar et al. 2022; Dekiff 2014 as quoted; from abstracts). */
const FLOOR: Readonly<Record<Seeing, readonly [um: number, because: string]>> = {
  macro: [
    100,
    'A macro lens shows pieces of 100 µm and more well enough to count them; below 500 µm the eye alone names nothing as plastic.',
  ],
  stereo: [50, 'By stereo microscope counting is acceptable down to about 50 µm; naming needs a test.'],
  compound: [
    20,
    'A compound microscope shows 20 µm, but the depth of focus is small and nothing is named as plastic without polarised light or dye.',
  ],
};
const PORES = [0.45, 1.2, 5, 8, 10, 20, 30, 50] as const;

/** Comfortable, good and bare designs for a first study. Four and four reach one-sided p = 1/70 by relabelling, three and three just 1/20. */
const DESIGNS = [
  { specimens: 6, controls: 6, blanks: 3, spikes: 3 },
  { specimens: 5, controls: 5, blanks: 3, spikes: 3 },
  { specimens: 4, controls: 4, blanks: 3, spikes: 3 },
  { specimens: 4, controls: 4, blanks: 2, spikes: 3 },
] as const;

/** Hours of hands for one run and one control of each kind; common practice, no source. */
export function handsOf(
  answers: PlanAnswers,
  digested: boolean,
): { run: number; blank: number; dish: number } {
  const look = { macro: 0.7, stereo: 1.5, compound: 3 }[answers.seeing];
  const act = Math.min(2, answers.minutes / 60) + 0.2;
  const prepare = 0.5 + (digested ? 0.5 : 0) + 0.6;
  return { run: prepare + act + look, blank: prepare + look, dish: 0.2 + look / 2 };
}

export function chooseFor(answers: PlanAnswers): Chosen {
  const { changed } = answers;
  const [floor, floorBecause] = FLOOR[answers.seeing];
  const sizeFromUm = changed.sizeFromUm ?? floor;
  const { option, because: digestBecause } = digestionFor(answers);
  const digested = option !== null && option.facts.reagent !== 'none';
  const hands = handsOf(answers, digested);
  const hoursFor = (d: (typeof DESIGNS)[number]) =>
    (d.specimens + d.controls + d.spikes) * hands.run +
    d.blanks * hands.blank +
    answers.sessions * hands.dish;
  const enough = DESIGNS.filter((d) => d.specimens <= answers.pieces);
  const fits = enough.find((d) => hoursFor(d) <= answers.hours);
  const design = fits ?? enough[enough.length - 1] ?? DESIGNS[DESIGNS.length - 1]!;
  const specimens = changed.specimens ?? Math.min(design.specimens, Math.max(1, answers.pieces));
  const controls = changed.controls ?? design.controls;
  // Where nothing is cut, rubbed or eaten, the act control is a blank through every step already.
  const plain = answers.act === 'steep' && answers.matrixG === 0 && answers.matrix !== 'saliva';
  const blanks = changed.blanks ?? (plain ? 0 : design.blanks);
  const spikes = changed.spikes ?? design.spikes;
  const poreUm = changed.poreUm ?? [...PORES].reverse().find((pore) => pore <= 0.4 * sizeFromUm) ?? PORES[0];
  const filter =
    changed.filter ?? (answers.needle ? 'glass fibre' : 'cellulose nitrate, white, printed squares');
  const short: string[] = [];
  if (!fits) {
    short.push(
      `The smallest design that can answer takes about ${Math.ceil(hoursFor(design))} hours; there are ${answers.hours}. Fewer runs cannot tell a release from the background: find the hours, or ask a smaller question.`,
    );
  }
  if (answers.pieces < 4) {
    short.push(
      `There are ${answers.pieces} pieces of the product; at least 4 are needed, because pieces, not squares or particles, are what the answer speaks of.`,
    );
  }
  if (answers.act === 'cut' && answers.matrixG === 0) {
    short.push(
      'What is cut? Say its mass under “Food in one run”, and choose what it is, so that it can be digested; 0 g means that nothing but the product is cut.',
    );
  }
  const is = (key: keyof Changed) => changed[key] !== undefined;
  const choice = (key: keyof Changed, label: string, shown: string, because: string): Choice => ({
    key,
    label,
    shown,
    because,
    changed: is(key),
  });
  return {
    sizeFromUm,
    specimens,
    controls,
    blanks,
    spikes,
    option,
    poreUm,
    filter,
    short,
    choices: [
      choice('sizeFromUm', 'Pieces from', `${sizeFromUm} µm`, floorBecause),
      choice(
        'specimens',
        'Specimen runs',
        String(specimens),
        'Six pieces of one lot: four and four is the least that decides by relabelling with room to spare, six and six is comfortable.',
      ),
      choice(
        'controls',
        'Act controls',
        String(controls),
        'As many as runs, of the most complete kind (everything but the product): this is the comparison that decides.',
      ),
      choice(
        'blanks',
        'Procedural blanks',
        String(blanks),
        plain
          ? 'Without food or tool the act control is a blank through every step: more would repeat it.'
          : 'At least three a batch are asked for by published quality criteria; they show what the work itself adds.',
      ),
      choice(
        'spikes',
        'Spiked runs',
        String(spikes),
        'Three runs with fifty and more known pieces in two sizes, in the same matrix: published recovery is often 50 to 90 %, so a figure per gram needs its own.',
      ),
      choice('reagent', 'Digestion', option?.facts.name ?? 'none', digestBecause),
      choice(
        'poreUm',
        'Pore of the filter',
        `${poreUm} µm`,
        'Between a fifth and two fifths of the smallest size: finer brings little and clogs sooner (common practice, no source).',
      ),
      choice(
        'filter',
        'Filter',
        filter,
        answers.needle
          ? 'Glass fibre stands heat; a hot needle never goes onto cellulose nitrate, which burns fiercely.'
          : 'Flat, white, with printed squares that give the scale; never under a hot needle.',
      ),
    ],
  };
}

/** The first option that is open here; where none is, none, said plainly. */
function digestionFor(answers: PlanAnswers): { option: DigestionOption | null; because: string } {
  const advice = adviseDigestion({
    matrix: answers.matrix,
    polymers: answers.polymers,
    setting: answers.setting,
    equipment: answers.equipment,
    massG: answers.matrixG > 0 ? answers.matrixG : null,
  });
  if (!advice.ok) return { option: null, because: advice.refusal.message };
  const { options, matrix } = advice.value;
  const wanted = answers.changed.reagent;
  const option =
    (wanted ? options.find(({ facts }) => facts.reagent === wanted) : undefined) ??
    options.find(({ standing }) => standing === 'open') ??
    null;
  if (!option) {
    const first = options[0];
    return {
      option: null,
      because: `${matrix.first} Nothing of it can be done here${first?.because ? `: ${first.because}` : '.'} Without it the filter may clog or stay unreadable.`,
    };
  }
  const suspects = answers.polymers.map((polymer) => POLYMER_WORDS[polymer]).join(', ');
  const { backing } = REAGENT_FACTS[option.facts.reagent];
  return {
    option,
    because: `${matrix.first} ${matrix.watch}${suspects ? ` For ${suspects}: ${option.because ?? 'no harm is known at these conditions'}.` : ''} Source: ${backing.from}.`,
  };
}
