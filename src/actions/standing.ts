import { type CountingRefusal, type Judgement, judge } from '../science/counting/index.ts';
import {
  type Claim,
  type ClaimFacts,
  COUNTS_ALONE,
  claimFrom,
  type HeldBack,
  heldBack,
  type InputNote,
  type Specimen,
  type StudyInput,
  studyInput,
} from '../study/index.ts';
import { done, fraction, type Outcome, um } from '../units/index.ts';
import { type CountedRun, type CountedStudy, countStudy } from './count-runs.ts';
import { coverageNotes, coverStudy } from './cover-study.ts';
import { asId, known } from './known.ts';
import type { Tools } from './ports.ts';

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
const SEED = 20_260_101;

/** `more`: notes that take more than the counts to know. */
export function standingFrom(counted: CountedStudy, more: readonly InputNote[] = []): Standing {
  const specimens = counted.specimens
    .filter((specimen) => counted.runs.some((run) => run.specimen?.id === specimen.id))
    .map((specimen) => specimenStanding(counted, specimen));
  const notes = [...specimens.flatMap(({ input }) => [...input.notes]), ...more];
  const sizes = sizesCut(counted);
  return { counted, specimens, heldBack: heldBack(sizes ? [...notes, sizes] : notes) };
}

function specimenStanding(counted: CountedStudy, specimen: Specimen): SpecimenStanding {
  const { question } = counted.study;
  const input = studyInput(counted.runs, specimen.id, question.decision.confidence);
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
    sizeFloorUm: floors.length > 0 ? um(Math.max(...floors)) : null,
    scope: { fromUm: question.sizeFromUm, toUm: question.sizeToUm },
    examined: mine.length > 0 ? fraction(Math.min(1, seen.reduce((a, b) => a + b, 0) / mine.length)) : null,
    unreadable: mine.flatMap((run) => unreadable(counted, run)),
    attribution: {
      ...COUNTS_ALONE.attribution,
      aboveActControls: input.background === 'act-control' && judged.ok && judged.value.aboveBackground,
    },
  };
}

/** Filters with photographs of which none could be searched. */
const unreadable = ({ filterCounts }: CountedStudy, run: CountedRun): string[] =>
  run.filters
    .filter((filter) => {
      const seen = filterCounts.get(filter.id);
      return seen !== undefined && seen.photos > 0 && seen.searched === 0;
    })
    .map((filter) => filter.name);

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

export const standing = (
  { records }: Pick<Tools, 'records'>,
  wish: { readonly study: string },
): Promise<Outcome<Standing>> =>
  records.look(async (look) => {
    const study = await known(look.studies.get(asId(wish.study)), 'study', wish.study);
    if (!study.ok) return study;
    const counted = await countStudy(look, study.value);
    return done(standingFrom(counted, coverageNotes(counted, await coverStudy(look, counted))));
  });
