import { cautionsOfAll, editionChanges, SAFETY_FIRST, type Step, stepWords } from '../../study/index.ts';
import { figure, percent } from '../charts/index.ts';
import type { ReportFacts, ReportProcedure } from '../facts.ts';
import { falseFindsWords } from '../false-finds-words.ts';
import { type Block, heading, list, paragraph, type Section } from '../tree.ts';
import { inWords, many, RUN_WORDS, sentence } from '../words.ts';

/** Methods written from the records: what was done, how it was seen, how it was counted. */
export function methodsSection(facts: ReportFacts): Section {
  return {
    id: 'methods',
    title: 'Methods',
    lead: 'Written from the records; numbers in brackets point to the sources at the end.',
    blocks: [...proceduresText(facts), ...seeingText(facts), ...countingText(facts)],
  };
}

const touchedWords = (step: Step, common: string | null): string => {
  const { vessel, tool, liquid, reagentLot, place, filterLot } = step.touches;
  const parts = [
    liquid && `with ${liquid}`,
    reagentLot && `lot ${reagentLot}`,
    tool && `using ${tool}`,
    vessel && `in ${vessel}`,
    filterLot && `filter lot ${filterLot}`,
    place && place !== common && `at ${place}`,
    step.minutesUncovered !== null && `${figure(step.minutesUncovered)} min uncovered`,
  ].filter(Boolean);
  return parts.length === 0 ? '' : `, ${parts.join(', ')}`;
};

function proceduresText({ procedures }: ReportFacts): Block[] {
  const used = procedures.filter((one) => one.runs.length > 0);
  const [first, ...others] = used;
  if (!first) return [heading('What was done'), paragraph('No run follows a procedure on record.')];
  const common = commonPlace(first.steps);
  return [
    heading('What was done'),
    paragraph(followed(first)),
    ...(common === null
      ? []
      : [paragraph(`Every step that names a place was done at ${common}, unless another is said.`)]),
    list(
      first.steps.map((step) => stepLine(step, common)),
      true,
    ),
    ...others.flatMap((one): Block[] => {
      const changes = editionChanges(first.steps, one.steps);
      return [
        paragraph(
          `${followed(one)}${changes.length === 0 ? ' The steps are the same.' : ` Against the steps above:`}`,
        ),
        ...(changes.length === 0 ? [] : [list(changes)]),
      ];
    }),
  ];
}

/** The place that most steps name, where it is said more than twice: it is said once. */
function commonPlace(steps: readonly Step[]): string | null {
  const times = new Map<string, number>();
  for (const { touches } of steps)
    if (touches.place) times.set(touches.place, (times.get(touches.place) ?? 0) + 1);
  const [most] = [...times].sort((a, b) => b[1] - a[1]);
  return most && most[1] > 2 ? most[0] : null;
}

const stepLine = (step: Step, common: string | null): string =>
  `${sentence(`${stepWords(step)}${touchedWords(step, common)}`)}${step.note === '' ? '' : ` ${sentence(step.note)}`}`;

const followed = (one: ReportProcedure): string =>
  `${one.name}, edition ${one.number}: followed by ${inWords(one.runs)} (${inWords([...new Set(one.kinds)].map((kind) => RUN_WORDS[kind]))}).${one.because === '' ? '' : ` Made because: ${sentence(one.because)}`}`;

function seeingText({ photos, runs, sizeFromUm, falseFinds }: ReportFacts): Block[] {
  const searched = photos.filter((photo) => photo.method !== null && photo.refusal === null);
  const scales = searched.flatMap((photo) => photo.umPerPx ?? []);
  const floors = searched.flatMap((photo) => photo.floorUm ?? []);
  const methods = [...new Set(searched.flatMap((photo) => photo.method ?? []))];
  const text = [
    `${many(photos.length, 'photograph')} of ${many(runs.flatMap((run) => run.filters).length, 'filter')} are kept as they came, each under the SHA-256 hash of its bytes.`,
    searched.length === 0
      ? 'None of them was searched yet.'
      : `${searched.length} were searched by the program (${inWords(methods)}); people kept, dropped or re-named what it found.`,
    ...falseFinds.map(({ asked, photos, own }) => falseFindsWords(asked, photos, own)),
    scales.length === 0
      ? ''
      : `Scales run from ${figure(Math.min(...scales))} to ${figure(Math.max(...scales))} µm per pixel.`,
    floors.length === 0
      ? ''
      : `The smallest piece that could be seen is ${figure(Math.min(...floors))} to ${figure(Math.max(...floors))} µm by photograph; all runs are counted from ${figure(sizeFromUm)} µm on. Size is the maximum Feret diameter [1].`,
    photos.length - searched.length > 0
      ? `${many(photos.length - searched.length, 'photograph')} could not be searched or waits: what they show is not measured.`
      : '',
  ];
  return [heading('How it was seen'), paragraph(text.filter(Boolean).join(' '))];
}

function countingText({ specimens, study }: ReportFacts): Block[] {
  const judged = specimens[0]?.judged ?? null;
  const input = specimens[0]?.input ?? null;
  const text: string[] = [];
  if (judged === null || input === null)
    text.push('Counts were not judged: the reasons stand beside the claim.');
  else {
    text.push(
      `Specimen runs were judged against ${judged.controls.runs} ${input.background === null ? 'controls' : `${RUN_WORDS[input.background]}s`} at ${percent(study.question.decision.confidence)} confidence. Each count stands for the share of its liquid that passed and the share of its filter that was examined.`,
      `The decision is by ${inWords(judged.tests.filter((one) => one.primary).map((one) => one.name.replaceAll('-', ' ')))} [2, 3]; the amount and its interval by a joint model in which runs scatter more than Poisson, background, recovery and error rates are uncertain together [4].`,
      judged.recovery === null
        ? 'Recovery was not measured; the amount is what was found, not what was there.'
        : 'The amount is corrected for the recovery of known pieces, with its uncertainty.',
    );
  }
  const { identification } = specimens[0]?.facts ?? { identification: null };
  if (identification)
    text.push(
      identification.by === 'by-eye'
        ? 'Pieces were told by eye: they are suspected synthetic particles, not proven plastic [5].'
        : `Of ${identification.tested} tested pieces ${identification.passed} passed (${identification.by === 'melts' ? 'they melt' : 'polymer by spectrum'})${identification.atRandom ? ', drawn at random' : ', not drawn at random'}.`,
    );
  return [heading('How it was counted'), paragraph(text.join(' '))];
}

/** Cautions of the work that this report describes, for whoever repeats it. */
export function cautionsSection({ procedures }: ReportFacts): Section {
  const steps = procedures.flatMap((one) => one.steps);
  return {
    id: 'cautions',
    title: 'Cautions for whoever repeats this',
    blocks: [
      { kind: 'cautions', items: [SAFETY_FIRST, ...cautionsOfAll(steps).map(({ message }) => message)] },
    ],
  };
}

/** Sources that the methods name. How each was seen is said in the program's own list of sources. */
export const sourcesSection = (): Section => ({
  id: 'sources',
  title: 'Sources',
  blocks: [
    list(
      [
        'ISO 9276-6:2008, descriptors of particle shape (wording from memory).',
        'Fisher 1935, The Design of Experiments, § 21 (relabelling of runs).',
        'Przyborowski & Wilenski 1940, Biometrika 31:313–323 (two counts, conditional exact).',
        'The joint model: the program’s method page “counting-model”, with what it assumes and when it deceives.',
        'Lenz et al. 2015, Mar. Pollut. Bull. 100:82–91 (abstract): of pieces picked by eye 68 % were confirmed as plastic.',
        'Cowger et al. 2020, Appl. Spectrosc. 74:1066–1077; Brander et al. 2020, Appl. Spectrosc. 74:1099–1125 (reporting and controls; items from memory).',
      ],
      true,
    ),
    paragraph('No claim of conformity with a standard is made.'),
  ],
});
