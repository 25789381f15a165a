/** Everything behind one claim: the pieces by category and size, what was looked at, mass, other ways to judge, other questions. */
import {
  type BandedNet,
  chanceFromDrawn,
  type MassEstimate,
  type MassRefusal,
  type Robustness,
} from '../science/counting/index.ts';
import {
  type Categories,
  type CountedPiece,
  categoriesOf,
  comparisonsOf,
  extentUncertainty,
  type FilterId,
  massOf,
  type OtherQuestion,
  type PhotoId,
  type PiecesRefusal,
  type Recounted,
  recoveryStrataOf,
  robustnessOfStudy,
  sidesOf,
  sizesOf,
} from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { type BlankBatch, blankHistory } from './blank-history.ts';
import { candidatesOf } from './candidates.ts';
import { type CountedStudy, countStudy } from './count-runs.ts';
import { asId, known } from './known.ts';
import type { Tools } from './ports.ts';
import { SEED, type SpecimenStanding, standingFrom } from './standing.ts';

export interface ClaimDetails {
  readonly counted: CountedStudy;
  readonly mine: SpecimenStanding;
  readonly categories: Outcome<Categories, PiecesRefusal>;
  readonly sizes: Outcome<readonly BandedNet[], PiecesRefusal>;
  readonly mass: Outcome<MassEstimate, MassRefusal>;
  readonly robustness: Robustness;
  readonly comparisons: readonly OtherQuestion[];
  readonly history: readonly BlankBatch[];
  /** The filter that each photo shows. */
  readonly filterOf: ReadonlyMap<PhotoId, FilterId>;
}

/** Size floors that are tried beside the one counted from. Project choice. */
const OTHER_FLOORS = [1.5, 2] as const;

/** Counts of all runs over other sizes within the study's own, from the pieces themselves; `sizeToUm` null: no upper end. */
export function recountedIn(
  counted: CountedStudy,
  pieces: readonly CountedPiece[],
  sizeFromUm: number,
  sizeToUm: number | null = null,
): Recounted {
  const tally = new Map<string, { kept: number; unmarked: number }>();
  for (const { run, particle } of pieces) {
    if (particle.feretMaxUm! < sizeFromUm || particle.feretMaxUm! >= (sizeToUm ?? Infinity)) continue;
    const sum = tally.get(run) ?? { kept: 0, unmarked: 0 };
    if (particle.standing === 'kept') sum.kept++;
    else sum.unmarked++;
    tally.set(run, sum);
  }
  return {
    sizeFromUm,
    runs: counted.runs.map((run) => {
      const { kept, unmarked } = tally.get(run.run.name) ?? { kept: 0, unmarked: 0 };
      return run.count === null ? run : { ...run, count: kept + unmarked, kept, unmarked };
    }),
  };
}

function extentsOf(counted: CountedStudy, pieces: readonly CountedPiece[]): ReadonlyMap<string, number> {
  const extents = new Map<string, number>();
  for (const run of counted.runs) {
    const mine = pieces.filter((piece) => piece.run === run.run.name);
    const relative = extentUncertainty(run, run.filters, mine);
    if (relative !== null && relative > 0) extents.set(run.run.name, Math.min(0.9, relative));
  }
  return extents;
}

/** What lies behind the claim on one specimen. */
export const claimDetails = (
  { records }: Pick<Tools, 'records'>,
  wish: { readonly study: string; readonly specimen: string },
): Promise<Outcome<ClaimDetails>> =>
  records.look(async (look) => {
    const study = await known(look.studies.get(asId(wish.study)), 'study', wish.study);
    if (!study.ok) return study;
    const counted = await countStudy(look, study.value);
    const { specimens } = standingFrom(counted);
    const mine = specimens.find(({ specimen }) => specimen.id === wish.specimen);
    if (!mine) {
      return refused({
        why: 'no-such-specimen',
        message: 'There is nothing behind a claim yet: no run of this specimen was recorded.',
      });
    }
    const { question } = study.value;
    const { confidence } = question.decision;
    const pieces = (await candidatesOf(look, study.value)).flatMap(({ particle, run }): CountedPiece[] =>
      particle.standing !== 'dropped' && particle.feretMaxUm! >= counted.sizeFromUm
        ? [{ run: run.name, particle }]
        : [],
    );
    const sides = sidesOf(pieces, mine.input);
    const history = await blankHistory(look, study.value, {
      sizeFromUm: counted.sizeFromUm,
      sizeToUm: question.sizeToUm,
      shapes: question.shapes,
      colours: question.colours,
    });
    const { drill, confirmation } = mine.input.input;
    const floor = counted.runs.some((run) => run.floorUm !== null) ? counted.sizeFromUm : null;
    return done({
      counted,
      mine,
      categories: categoriesOf(sides, mine.input),
      sizes: sizesOf(
        sides,
        mine.input,
        floor,
        counted.completeness ? chanceFromDrawn(counted.completeness.result.cells) : undefined,
      ),
      mass: massOf(sides, counted.sizeFromUm, confidence),
      robustness: robustnessOfStudy(
        counted.runs,
        mine.specimen.id,
        confidence,
        OTHER_FLOORS.map((times) => recountedIn(counted, pieces, times * counted.sizeFromUm)),
        { seed: SEED },
        {
          ...(drill ? { drill } : {}),
          ...(confirmation ? { confirmation } : {}),
          strata: recoveryStrataOf(counted.runs, sides),
          extents: extentsOf(counted, pieces),
          history: history.filter((batch) => batch.kind === mine.input.background).map((batch) => batch.runs),
        },
      ),
      comparisons: comparisonsOf(
        counted.runs,
        [mine, ...specimens.filter((one) => one !== mine)],
        confidence,
      ),
      history,
      filterOf: new Map((await look.photos.ofStudy(study.value.id)).map((photo) => [photo.id, photo.filter])),
    });
  });
