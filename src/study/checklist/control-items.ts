import { type ChecklistFacts, hasStep, type ListedRun, ofKind, specimenRuns, stepsOfKind } from './facts.ts';
import { either, type Item, no, notHere, times } from './item.ts';

const KOELMANS = 'Koelmans et al. 2019, Water Res. 155:410 (criteria from memory, unverified)';
const BRANDER = 'Brander et al. 2020, Appl. Spectrosc. 74:1099 (detail from memory)';
const OURS = 'common practice, no source';

const counted = (runs: readonly ListedRun[]): number => runs.filter(({ count }) => count !== null).length;
const hottest = (facts: ChecklistFacts): number =>
  Math.max(
    0,
    ...specimenRuns(facts).flatMap(({ steps }) =>
      steps
        .filter((step) => step.kind !== 'dry' && step.kind !== 'digest')
        .map((step) => step.quantities.temperature_c ?? 0),
    ),
  );

export const CONTROL_ITEMS: readonly Item[] = [
  {
    id: 'C1',
    asks: 'At least three blanks through every step.',
    severity: 'blocks',
    anchor: `${KOELMANS}; ${BRANDER}`,
    place: 'runs',
    judge: (facts) => {
      const n = counted(ofKind(facts, 'procedural-blank', 'act-control', 'matrix-blank'));
      return either(
        n >= 3,
        `${times(n, 'blank')} counted, the act controls among them.`,
        `${n} counted: make ${3 - n} more.`,
      );
    },
  },
  {
    id: 'C2',
    asks: 'About ten blanks where a limit is first set.',
    severity: 'weakens',
    anchor: '(EU) 2024/1441 (annex from memory, unverified)',
    place: 'runs',
    judge: (facts) => {
      const n = counted(ofKind(facts, 'procedural-blank', 'act-control', 'matrix-blank'));
      return either(
        n >= 10,
        `${n} counted.`,
        `${n} counted: how blanks scatter is known the better the more there are.`,
      );
    },
  },
  {
    id: 'C3',
    asks: 'At least three controls of the food or liquid without the product.',
    severity: 'blocks',
    anchor: 'EFSA 2025 review (second-hand); Shruti & Kutralam-Muniasamy 2023 (abstract)',
    place: 'runs',
    judge: (facts) => {
      const food = stepsOfKind(specimenRuns(facts), 'cut').some(
        (step) => step.quantities.mass_g !== undefined,
      );
      if (!food && !hasStep(specimenRuns(facts), 'digest'))
        return notHere('There is no food or other matrix.');
      const n = counted(ofKind(facts, 'matrix-blank', 'act-control'));
      return either(n >= 3, `${n} with the matrix and without the product.`, `${n}: make ${3 - n} more.`);
    },
  },
  {
    id: 'C4',
    asks: 'The same act with an inert body in place of the product.',
    severity: 'blocks',
    anchor: 'Yadav et al. 2023, ES&T 57:8225 (abstract: wooden boards shed too)',
    place: 'runs',
    judge: (facts) => {
      if (!hasStep(specimenRuns(facts), 'cut', 'handle', 'shake', 'wash'))
        return notHere('There is no act beside standing.');
      const n = counted(ofKind(facts, 'act-control'));
      return either(
        n > 0,
        `${times(n, 'act control')} counted.`,
        'Do the act on glass or steel: what it sheds without the product is not known.',
      );
    },
  },
  {
    id: 'C5',
    asks: 'An open dish in every sitting, with its minutes.',
    severity: 'weakens',
    anchor: 'Wright et al. 2021, s43591-021-00006-y (table seen)',
    place: 'runs',
    judge: (facts) => {
      const sessions = new Set(specimenRuns(facts).map(({ run }) => run.session));
      const dishes = new Set(ofKind(facts, 'air-control').map(({ run }) => run.session));
      const without = [...sessions].filter((session) => !dishes.has(session));
      if (sessions.size === 0) return no('No specimen run is recorded.');
      return either(
        without.length === 0,
        `A dish in each of ${times(sessions.size, 'sitting')}.`,
        `No dish in: ${without.join(', ')}.`,
      );
    },
  },
  {
    id: 'C6',
    asks: 'A blank of reagents and rinse water.',
    severity: 'weakens',
    anchor: BRANDER,
    place: 'runs',
    judge: (facts) => {
      const n = counted(ofKind(facts, 'reagent-blank'));
      return either(
        n > 0,
        `${n} counted.`,
        'None counted: what the liquids bring cannot be told from what the vessels bring.',
      );
    },
  },
  {
    id: 'C7',
    asks: 'Known pieces put in, at least three times, in the same matrix.',
    severity: 'blocks',
    anchor: `${KOELMANS}; Hermsen et al. 2018, ES&T 52:10230 (from memory)`,
    place: 'runs',
    judge: (facts) => {
      const n = counted(ofKind(facts, 'spiked-run'));
      return either(
        n >= 3,
        `${times(n, 'spiked run')} counted.`,
        `${n} counted: make ${3 - n} more, two sizes, fragments and fibres; without them there is no figure per gram.`,
      );
    },
  },
  {
    id: 'C8',
    asks: 'Known natural pieces scored, for the error rate.',
    severity: 'weakens',
    anchor: 'Kotar et al. 2022; Beckingham et al. 2023 (abstracts)',
    place: 'evidence',
    judge: ({ drills }) =>
      either(
        drills.natural >= 30,
        `${drills.natural} natural pieces in drills.`,
        `${drills.natural} natural pieces scored: thirty are wanted.`,
      ),
  },
  {
    id: 'C9',
    asks: 'Hot and cooled parts compared, where it gets hot.',
    severity: 'weakens',
    anchor: 'Gerhard et al. 2022, 10.1080/19440049.2021.1989498 (abstract)',
    place: 'runs',
    judge: (facts) => {
      const t = hottest(facts);
      if (t <= 50) return notHere(t === 0 ? 'No heat is on record.' : `Nothing above ${t} °C.`);
      const pair = facts.runs.some(({ run }) => /cool|hot/i.test(`${run.name} ${run.note}`));
      return either(
        pair,
        'Runs filtered hot and cooled are on record.',
        `It gets ${t} °C: filter one part hot and one cooled, and say so in the names of the runs.`,
      );
    },
  },
  {
    id: 'C10',
    asks: 'Each run has controls that match it step by step.',
    severity: 'blocks',
    anchor: `${KOELMANS} (“in parallel”)`,
    place: 'procedure',
    judge: (facts) => {
      const runs = specimenRuns(facts);
      if (runs.length === 0) return no('No specimen run is recorded.');
      const without = runs.filter(({ matched }) => matched === false).map(({ run }) => run.name);
      return either(
        without.length === 0,
        'Every run has its match.',
        `No match for ${without.join(', ')}: the procedure place says which control closes it.`,
      );
    },
  },
  {
    id: 'S2',
    asks: 'Minutes uncovered are on record for every run.',
    severity: 'weakens',
    anchor: 'feeding and water bottle study, PMC8214457 (read in part)',
    place: 'procedure',
    judge: ({ runs }) => {
      if (runs.length === 0) return no('No run is recorded yet.');
      const without = runs.filter(
        ({ steps }) => steps.length > 0 && steps.every((step) => step.minutesUncovered === null),
      );
      return either(
        without.length === 0,
        'On record.',
        `Not said for ${without.map(({ run }) => run.name).join(', ')}.`,
      );
    },
  },
  {
    id: 'M1',
    asks: 'Lots are on record wherever a reagent or a filter is used.',
    severity: 'weakens',
    anchor: 'Cowger et al. 2020 (from memory)',
    place: 'procedure',
    judge: (facts) => {
      const open = new Set(
        specimenRuns(facts).flatMap(({ steps }) =>
          steps
            .filter(
              ({ kind, touches }) =>
                (['digest', 'float'].includes(kind) && touches.reagentLot === null) ||
                (kind === 'filter' && touches.filterLot === null),
            )
            .map(({ key }) => key),
        ),
      );
      return either(
        open.size === 0,
        'Reagent and filter lots are named.',
        `Name the lot at: ${[...open].join(', ')}.`,
      );
    },
  },
  {
    id: 'M2',
    asks: 'Liquids were filtered before use.',
    severity: 'weakens',
    anchor: 'laboratory contamination studies (abstracts)',
    place: 'procedure',
    judge: (facts) => {
      const open = new Set(
        specimenRuns(facts).flatMap(({ steps }) =>
          steps
            .filter(
              ({ kind, touches }) =>
                ['rinse', 'dilute', 'soak'].includes(kind) &&
                touches.liquid !== null &&
                !/filter|ultrapure|milli/i.test(touches.liquid),
            )
            .map(({ key }) => key),
        ),
      );
      return either(
        open.size === 0,
        'Every rinsing and diluting liquid is called filtered.',
        `Not said at: ${[...open].join(', ')} (write “filtered water” where it was).`,
      );
    },
  },
  {
    id: 'H1',
    asks: 'Hazards, supervision and waste are settled in writing, where the work can hurt.',
    severity: 'blocks',
    anchor: OURS,
    place: 'procedure',
    judge: ({ safetyAsked, safetyReady }) =>
      safetyAsked
        ? either(
            safetyReady,
            'The safety questions are answered.',
            'Answer the safety questions in the procedure place; data sheets and local rules come first.',
          )
        : notHere('Nothing in the steps asks for it beyond common care.'),
  },
];
