import { type CountingRefusal, type Judgement, judge } from '../science/counting/index.ts';
import {
  type Claim,
  type ClaimFacts,
  COUNTS_ALONE,
  type CoverageGap,
  claimFrom,
  type HeldBack,
  heldBack,
  type InputNote,
  oneMoreLike,
  pickedSentence,
  type Specimen,
  type StudyInput,
  studyInput,
  withdrawnSentence,
} from '../study/index.ts';
import { done, fraction, type Outcome, um } from '../units/index.ts';
import { type CountedRun, type CountedStudy, countStudy } from './count-runs.ts';
import { asId, known } from './known.ts';
import type { Tools } from './ports.ts';
import { inputWith } from './standing-evidence.ts';

/** What can be claimed of one specimen today. */
export interface SpecimenStanding {
  readonly specimen: Specimen;
  readonly claim: Claim;
  readonly judged: Outcome<Judgement, CountingRefusal>;
  readonly input: StudyInput;
  readonly facts: ClaimFacts;
}

/** Where a study stands: the claims, the product asked about first, and what holds them back. */
export interface Standing {
  readonly counted: CountedStudy;
  readonly specimens: readonly SpecimenStanding[];
  readonly heldBack: readonly HeldBack[];
}

/** Drawn relabellings are the same every time that the same counts are judged. */
export const SEED = 20_260_101;

export function standingFrom(counted: CountedStudy): Standing {
  const specimens = counted.specimens
    .filter((specimen) => counted.runs.some((run) => run.specimen?.id === specimen.id))
    .map((specimen) => specimenStanding(counted, specimen));
  const notes = specimens.flatMap(({ input, specimen }) => [
    ...input.notes,
    ...counted.evidenceFor(specimen).notes,
  ]);
  const whole = [withdrawnLate(counted), sizesCut(counted), seldomFound(counted)].filter(
    (note) => note !== null,
  );
  return { counted, specimens, heldBack: heldBack([...notes, ...whole]) };
}

function specimenStanding(counted: CountedStudy, specimen: Specimen): SpecimenStanding {
  const { question } = counted.study;
  const plain = studyInput(counted.runs, specimen.id, question.decision.confidence, counted.history);
  const input = inputWith(plain, counted, specimen, SEED);
  const judged = judge(input.input, { seed: SEED });
  const facts = factsOf(counted, specimen, input, judged);
  return { specimen, claim: claimFrom(judged, facts), judged, input, facts };
}

function factsOf(
  counted: CountedStudy,
  specimen: Specimen,
  input: StudyInput,
  judged: Outcome<Judgement, CountingRefusal>,
): ClaimFacts {
  const { question } = counted.study;
  const mine = counted.runs.filter((run) => run.run.kind === 'specimen' && run.specimen?.id === specimen.id);
  const floors = counted.runs.flatMap((run) => run.floorUm ?? []);
  const seen = mine.map((run) => (run.count === null ? 0 : (run.passed ?? 1) * (run.examined ?? 0)));
  return {
    ...COUNTS_ALONE,
    basis: 'study',
    gaps: gapsOf(mine, input),
    leftOut: mine.flatMap(({ run, background: own }) =>
      input.leftOut.includes(run.id) && own?.nearest
        ? [{ run: run.name, control: oneMoreLike(own.nearest) }]
        : [],
    ),
    withdrawn: withdrawnSentence(
      counted.withdrawn.filter((one) => one.run.kind !== 'specimen' || one.specimen === specimen.id),
    ),
    heldOut: input.heldOut.map(({ message }) => message),
    sizeFloorUm: floors.length > 0 ? um(Math.max(...floors)) : null,
    scope: { fromUm: question.sizeFromUm, toUm: question.sizeToUm },
    examined: mine.length > 0 ? fraction(Math.min(1, seen.reduce((a, b) => a + b, 0) / mine.length)) : null,
    unreadable: mine.flatMap((run) => unreadable(counted, run)),
    identification: counted.evidenceFor(specimen).identification ?? COUNTS_ALONE.identification,
    attribution: {
      ...COUNTS_ALONE.attribution,
      aboveActControls: input.background === 'act-control' && judged.ok && judged.value.aboveBackground,
    },
  };
}

/**
 * What the comparison with the controls leaves alive. Where no run has a background of its own, what keeps the nearest
 * control from serving: the claim cannot be judged. Otherwise only what is not recorded; runs without background of
 * their own are left out of the counts.
 */
function gapsOf(mine: readonly CountedRun[], { background }: StudyInput): readonly CoverageGap[] {
  const gaps = mine.flatMap(({ background: own }): CoverageGap[] => {
    if (!own) return [];
    if (background === null) {
      return (own.nearest?.changes ?? []).map(({ step, grade, leavesOpen, words }) => ({
        step,
        grade: grade === 'missing' ? 'missing' : 'different',
        leavesOpen,
        control: `one more ${own.nearest!.kind.replaceAll('-', ' ')} like ${own.nearest!.name}, but with ${words}`,
      }));
    }
    return own.unknown.map(({ step, leavesOpen, words }) => ({
      step,
      grade: 'unknown',
      leavesOpen,
      control: words,
    }));
  });
  const seen = new Set<string>();
  return gaps.filter(({ step, grade, leavesOpen }) => {
    // What is only not recorded is said once for each explanation that it leaves alive.
    const key = grade === 'unknown' ? `unknown ${leavesOpen}` : `${step} ${grade} ${leavesOpen}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

/** Filters with photographs of which none could be searched. */
const unreadable = ({ filterCounts }: CountedStudy, run: CountedRun): string[] =>
  run.filters
    .filter((filter) => {
      const seen = filterCounts.get(filter.id);
      return seen !== undefined && seen.photos > 0 && seen.searched === 0;
    })
    .map((filter) => filter.name);

function withdrawnLate({ withdrawn }: CountedStudy): InputNote | null {
  const message = pickedSentence(withdrawn);
  return message === null ? null : { why: 'withdrawn-after-count', message, place: 'runs', run: null };
}

function sizesCut({ study, sizeFromUm }: CountedStudy): InputNote | null {
  const asked = study.question.sizeFromUm;
  return sizeFromUm <= asked
    ? null
    : {
        why: 'sizes-cut',
        message: `Pieces from ${asked} to ${Math.round(sizeFromUm)} µm could not have been seen on every photograph; all runs are counted from ${Math.round(sizeFromUm)} µm.`,
        place: 'filters',
        run: null,
      };
}

/** The contrast that stands for pieces at large: neither plain nor faint. Project choice. */
const AT_LARGE = { shape: 'all', contrast: 'middling' } as const;

function seldomFound({ completeness, sizeFromUm }: CountedStudy): InputNote | null {
  const floor = completeness?.result.floors.find(
    ({ shape, contrast }) => shape === AT_LARGE.shape && contrast === AT_LARGE.contrast,
  )?.nineTenths;
  if (!floor?.sizeUm || floor.sizeUm <= sizeFromUm) return null;
  const { sizeUm, lowerUm, upperUm } = floor;
  const within =
    lowerUm === null || upperUm === null
      ? ''
      : ` (${Math.round(lowerUm)} to ${Math.round(upperUm)} µm at ${Math.round(100 * completeness!.result.confidence)} % confidence)`;
  return {
    why: 'sizes-seldom-found',
    message: `On the controls’ own photographs nine in ten known pieces of middling contrast are found from ${Math.round(sizeUm)} µm up${within}, and counting begins at ${Math.round(sizeFromUm)} µm: smaller ones are counted too low, on runs and controls alike.`,
    place: 'filters',
    run: null,
  };
}

export const standing = (
  { records }: Pick<Tools, 'records'>,
  wish: { readonly study: string },
): Promise<Outcome<Standing>> =>
  records.look(async (look) => {
    const study = await known(look.studies.get(asId(wish.study)), 'study', wish.study);
    if (!study.ok) return study;
    return done(standingFrom(await countStudy(look, study.value)));
  });
