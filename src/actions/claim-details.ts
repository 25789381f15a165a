/** Everything behind one claim: the pieces by category and size, what was looked at, mass, other ways to judge, other questions. */
import {
  type BandedNet,
  chanceFromDrawn,
  type MassEstimate,
  type MassRefusal,
  type Robustness,
} from '../science/counting/index.ts';
import {
  type BalancedMass,
  type BalanceRefusal,
  balanceOf,
  bordersBetween,
  type Categories,
  type CountedPiece,
  categoriesOf,
  comparisonsOf,
  type FalseFindsAsked,
  type FilterId,
  massOf,
  type OtherQuestion,
  type PhotoId,
  PIECE_MEASURES,
  type PiecesRefusal,
  type Recounted,
  robustnessOfStudy,
  sidesOf,
  sizesOf,
} from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { candidatesOf } from './candidates.ts';
import { type CountedStudy, countStudy } from './count-runs.ts';
import { falseFindsAsked } from './false-finds-asked.ts';
import { asId, known } from './known.ts';
import type { Look, Tools } from './ports.ts';
import { SEED, type SpecimenStanding, standingFrom } from './standing.ts';
import { weighingsOf } from './weigh-product.ts';

export interface ClaimDetails {
  readonly counted: CountedStudy;
  readonly mine: SpecimenStanding;
  readonly falseFinds: readonly FalseFindsAsked[];
  readonly categories: Outcome<Categories, PiecesRefusal>;
  readonly sizes: Outcome<readonly BandedNet[], PiecesRefusal>;
  readonly mass: Outcome<MassEstimate, MassRefusal>;
  /** The mass shed against what the product lost on the balance. */
  readonly balance: Outcome<BalancedMass, BalanceRefusal>;
  readonly robustness: Robustness;
  readonly comparisons: readonly OtherQuestion[];
  /** The filter that each photo shows. */
  readonly filterOf: ReadonlyMap<PhotoId, FilterId>;
}

/** Size floors that are tried beside the one counted from. Project choice. */
const OTHER_FLOORS = [1.5, 2] as const;

/** Counts of all runs over other sizes within the study's own, from the pieces themselves; `sizeToUm` null: no upper end. */
export function recountedIn(
  counted: CountedStudy,
  pieces: readonly {
    readonly run: string;
    readonly particle: Pick<CountedPiece['particle'], 'feretMaxUm' | 'standing'>;
  }[],
  sizeFromUm: number,
  sizeToUm: number | null = null,
): Recounted {
  const borders = bordersBetween(counted.spikedUm);
  const none = () => ({ kept: 0, unmarked: 0, near: counted.spikedUm.map(() => 0) });
  const tally = new Map<string, ReturnType<typeof none>>();
  for (const { run, particle } of pieces) {
    const size = particle.feretMaxUm!;
    if (size < sizeFromUm || size >= (sizeToUm ?? Infinity)) continue;
    const sum = tally.get(run) ?? none();
    if (particle.standing === 'kept') sum.kept++;
    else sum.unmarked++;
    if (sum.near.length > 0) sum.near[borders.filter((border) => size >= border).length]! += 1;
    tally.set(run, sum);
  }
  return {
    sizeFromUm,
    runs: counted.runs.map((run) => {
      if (run.count === null) return run;
      const { kept, unmarked, near } = tally.get(run.run.name) ?? none();
      const nearSpike = new Map(near.map((held, at) => [counted.spikedUm[at]!, held]));
      return { ...run, count: kept + unmarked, kept, unmarked, nearSpike };
    }),
  };
}

/** The judged runs of the specimen that were weighed before and after, against what the claim says they shed. */
async function balanceHere(
  look: Look,
  { study, runs }: CountedStudy,
  { input, judged }: SpecimenStanding,
  mass: Outcome<MassEstimate, MassRefusal>,
): Promise<Outcome<BalancedMass, BalanceRefusal>> {
  const weighings = await weighingsOf(look, study.id);
  const names = new Set(input.input.portions.map(({ name }) => name));
  const mine = runs.filter(({ run }) => run.kind === 'specimen' && names.has(run.name));
  const weighed = mine.flatMap(({ run, portion }) => {
    const weighing = weighings.get(run.id);
    return weighing && portion ? [{ name: run.name, weighing, massG: portion.massG }] : [];
  });
  const without = mine.filter(({ run }) => !weighings.has(run.id)).map(({ run }) => run.name);
  return balanceOf(weighed, without, judged, mass);
}

/** The pieces of a study that are counted, of all runs. */
const countedPieces = async (look: Look, { study, sizeFromUm }: CountedStudy): Promise<CountedPiece[]> =>
  (await candidatesOf(look, study, PIECE_MEASURES)).flatMap(({ particle, photo, run }) =>
    particle.standing !== 'dropped' && particle.feretMaxUm! >= sizeFromUm
      ? [{ run: run.name, photo, particle }]
      : [],
  );

function otherWays(
  counted: CountedStudy,
  { specimen, input }: SpecimenStanding,
  pieces: readonly CountedPiece[],
): Robustness {
  const { drill, confirmation } = input.input;
  return robustnessOfStudy(
    counted.runs,
    specimen.id,
    counted.study.question.decision.confidence,
    OTHER_FLOORS.map((times) => recountedIn(counted, pieces, times * counted.sizeFromUm)),
    { seed: SEED },
    {
      ...(drill ? { drill } : {}),
      ...(confirmation ? { confirmation } : {}),
    },
    counted.history,
  );
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
    return done(await detailsBehind(look, counted, mine, specimens));
  });

/** The same, of a study that was counted and judged at this look; `mine` is one of its `specimens`. */
export async function detailsBehind(
  look: Look,
  counted: CountedStudy,
  mine: SpecimenStanding,
  specimens: readonly SpecimenStanding[],
): Promise<ClaimDetails> {
  const { study } = counted;
  const { question } = study;
  const { confidence } = question.decision;
  const pieces = await countedPieces(look, counted);
  const sides = sidesOf(pieces, mine.input);
  const floors = counted.runs.flatMap((run) => run.floorUm ?? []);
  const mass = massOf(sides, counted.sizeFromUm, confidence);
  return {
    counted,
    mine,
    falseFinds: await falseFindsAsked(look, study),
    categories: categoriesOf(sides, mine.input),
    sizes: sizesOf(
      sides,
      mine.input,
      // what the optics hide, and what the question leaves out, are two things
      floors.length > 0 ? Math.max(...floors) : null,
      counted.completeness ? chanceFromDrawn(counted.completeness.result.cells) : undefined,
      { fromUm: question.sizeFromUm, toUm: question.sizeToUm },
    ),
    mass,
    balance: await balanceHere(look, counted, mine, mass),
    robustness: otherWays(counted, mine, pieces),
    comparisons: comparisonsOf(counted.runs, [mine, ...specimens.filter((one) => one !== mine)], confidence),
    filterOf: new Map((await look.photos.ofStudy(study.id)).map((photo) => [photo.id, photo.filter])),
  };
}
