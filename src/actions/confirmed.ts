/** A random part of the counted pieces after its tests: the share that is real, as a whole and for each specimen. */
import { benchTest, whatItSays } from '../bench/index.ts';
import type { Interval } from '../science/counting/index.ts';
import { extrapolate, type TestedStratum } from '../science/evidence/index.ts';
import {
  type BenchAnswer,
  type Confirmation,
  type ConfirmationStratum,
  type Drill,
  type DrillRates,
  enoughForClaim,
  type ParticleId,
  type SpecimenId,
  type Study,
} from '../study/index.ts';
import type { Look } from './ports.ts';

/** Of which specimen a piece is. */
export type SpecimenOfPiece = ReadonlyMap<ParticleId, SpecimenId>;

/** Fewer tested pieces of a specimen than these say too little for a share of its own. Project choice. */
export const FEWEST_OF_SPECIMEN = 10;

export interface Confirmed {
  readonly confirmation: Confirmation;
  readonly strata: readonly (ConfirmationStratum & {
    readonly tested: number;
    readonly passed: number;
    /** Drawn, put to the test, and without a result (ambiguous, lost, outside its range). */
    readonly without: number;
  })[];
  /** Share of true pieces on the specimens' side and on the controls', tests' errors in it; null: nothing tested there. */
  readonly specimens: SideShare | null;
  readonly controls: SideShare | null;
  /** The same for each specimen of which enough was tested; another’s is the specimens’ as a whole, and that is said. */
  readonly ofSpecimen: ReadonlyMap<SpecimenId, SideShare>;
  /** Pieces of more than one specimen were drawn. */
  readonly several: boolean;
  /** Rates that it was corrected by; null: taken as free of error, which is said. */
  readonly drill: Drill | null;
}

export interface SideShare {
  readonly share: Interval;
  readonly pieces: number;
  readonly tested: number;
  readonly passed: number;
  /** The same as one tally, weighed by the strata: share passed, of as many pieces as the weighing is worth. */
  readonly positive: number;
  readonly worth: number;
  /** No more passed than the drill lets pass of look-alikes alone: no share can be stated, only what it is below. */
  readonly belowFloor: boolean;
}

const CONFIDENCE = 0.95;

export const drillOf = (rates: DrillRates | undefined): Drill | null =>
  rates && enoughForClaim(rates)
    ? {
        truePositive: [rates.plastic.k, rates.plastic.n],
        falsePositive: [rates.others.k, rates.others.n],
      }
    : null;

/** What an answer says of plastic, if it is one inside the test's range. */
export function verdictOf(answer: BenchAnswer): 'for' | 'against' | 'nothing' {
  const test = benchTest(answer.test);
  return test === null || answer.outside !== null ? 'nothing' : whatItSays(test, answer.answer).plastic;
}

function sideShare(strata: Confirmed['strata'], drill: Drill | null, seed: number): SideShare | null {
  const tested = strata.reduce((sum, one) => sum + one.tested, 0);
  if (tested === 0) return null;
  const pieces = strata.reduce((sum, one) => sum + one.pieces, 0);
  const errors = drill && {
    plastic: { k: drill.truePositive[0], n: drill.truePositive[1] },
    others: { k: drill.falsePositive[0], n: drill.falsePositive[1] },
  };
  const found = extrapolate(strata satisfies readonly TestedStratum[], errors, CONFIDENCE, seed);
  // Strata of which something was tested stand for all; their worth is Kish's effective number.
  const looked = strata.filter((one) => one.tested > 0);
  const weight = looked.reduce((sum, one) => sum + one.pieces, 0);
  const passing = looked.reduce((sum, one) => sum + (one.pieces / weight) * (one.passed / one.tested), 0);
  const spread = looked.reduce((sum, one) => sum + (one.pieces / weight) ** 2 / one.tested, 0);
  const worth = Math.max(1, Math.min(tested, Math.floor(1 / spread + 1e-9)));
  return {
    share: { ...found.share, confidence: CONFIDENCE },
    pieces,
    tested,
    passed: strata.reduce((sum, one) => sum + one.passed, 0),
    positive: Math.min(worth, Math.round(passing * worth)),
    worth,
    belowFloor: errors !== null && passing <= errors.others.k / errors.others.n,
  };
}

export function confirmedBy(
  confirmation: Confirmation,
  answers: readonly BenchAnswer[],
  drill: Drill | null,
  specimenOf: SpecimenOfPiece = new Map(),
): Confirmed {
  const last = new Map<ParticleId, BenchAnswer>();
  for (const answer of answers) if (answer.test === confirmation.test) last.set(answer.particle, answer);
  const withResults = (stratum: ConfirmationStratum) => {
    const said = stratum.drawn.flatMap((id) => last.get(id) ?? []).map(verdictOf);
    const passed = said.filter((one) => one === 'for').length;
    const failed = said.filter((one) => one === 'against').length;
    return { ...stratum, tested: passed + failed, passed, without: said.length - passed - failed };
  };
  const strata = confirmation.strata.map(withResults);
  const of = (side: ConfirmationStratum['side']): SideShare | null =>
    sideShare(
      strata.filter((one) => one.side === side),
      drill,
      confirmation.seed,
    );
  const ofSpecimen = new Map<SpecimenId, SideShare>();
  for (const specimen of new Set(specimenOf.values())) {
    const own = strataOfSpecimen(confirmation, specimen, specimenOf).map(withResults);
    const share = sideShare(own, drill, confirmation.seed);
    if (share !== null && share.tested >= FEWEST_OF_SPECIMEN) ofSpecimen.set(specimen, share);
  }
  return {
    confirmation,
    strata,
    specimens: of('specimens'),
    controls: of('controls'),
    ofSpecimen,
    several: specimenOf.size > 0,
    drill,
  };
}

/**
 * The strata of one specimen: its pieces among the drawn, and as many of the counted as their part of the draw says. A
 * draw at random within a stratum is one at random within every part of it.
 * Source: Cochran 1977, Sampling Techniques, §2.13 (estimates for subpopulations; from memory).
 */
function strataOfSpecimen(
  confirmation: Confirmation,
  specimen: SpecimenId,
  specimenOf: SpecimenOfPiece,
): ConfirmationStratum[] {
  return strataWith(
    confirmation.strata.filter(({ side }) => side === 'specimens'),
    (id) => specimenOf.get(id) === specimen,
  );
}

const strataWith = (
  strata: readonly ConfirmationStratum[],
  belongs: (id: ParticleId) => boolean,
): ConfirmationStratum[] =>
  strata.flatMap((stratum): ConfirmationStratum[] => {
    const drawn = stratum.drawn.filter(belongs);
    if (drawn.length === 0) return [];
    const pieces = Math.max(drawn.length, Math.round((stratum.pieces * drawn.length) / stratum.drawn.length));
    return [{ ...stratum, drawn, pieces }];
  });

/** The random parts without the pieces of withdrawn runs: what is left is a draw at random from what still counts. */
export async function ofRunsThatCount(
  look: Look,
  study: Study,
  confirmations: readonly Confirmation[],
): Promise<readonly Confirmation[]> {
  if (confirmations.length === 0 || (await look.runs.withdrawnOfStudy(study.id)).length === 0)
    return confirmations;
  const photos = new Set((await look.photos.ofStudy(study.id)).map(({ id }) => id));
  const drawn = confirmations.flatMap(({ strata }) => strata.flatMap((stratum) => stratum.drawn));
  const counting = new Set(
    (await look.particles.some([...new Set(drawn)]))
      .filter(({ photo }) => photos.has(photo))
      .map(({ id }) => id),
  );
  return confirmations.map((confirmation) => ({
    ...confirmation,
    strata: strataWith(confirmation.strata, (id) => counting.has(id)),
  }));
}

/** The specimens of the drawn pieces; empty where the study has one specimen only, whose share is the whole. */
export async function specimensOfDrawn(
  look: Look,
  study: Study,
  confirmations: readonly Confirmation[],
): Promise<SpecimenOfPiece> {
  const drawn = confirmations.flatMap(({ strata }) =>
    strata.flatMap((one) => (one.side === 'specimens' ? one.drawn : [])),
  );
  if (drawn.length === 0 || (await look.specimens.ofStudy(study.id)).length < 2) return new Map();
  const portions = new Map((await look.portions.ofStudy(study.id)).map((one) => [one.id, one.specimen]));
  const runs = new Map((await look.runs.ofStudy(study.id)).map((one) => [one.id, one.portion]));
  const filters = new Map((await look.filters.ofStudy(study.id)).map((one) => [one.id, one.run]));
  const photos = new Map((await look.photos.ofStudy(study.id)).map((one) => [one.id, one.filter]));
  const found = new Map<ParticleId, SpecimenId>();
  for (const { id, photo } of await look.particles.some([...new Set(drawn)])) {
    const filter = photos.get(photo);
    const run = filter && filters.get(filter);
    const portion = run && runs.get(run);
    const specimen = portion && portions.get(portion);
    if (specimen) found.set(id, specimen);
  }
  return found;
}
