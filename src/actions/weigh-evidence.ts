/** What tests, drills and blinded rounds of a study say, gathered for the claim and for the screens. */
import { benchTest, whatItSays } from '../bench/index.ts';
import type { Interval } from '../science/counting/index.ts';
import { extrapolate, type TestedStratum } from '../science/evidence/index.ts';
import {
  type BenchAnswer,
  type Confirmation,
  type ConfirmationStratum,
  type Drill,
  type DrillAnswer,
  type DrillRates,
  drillRates,
  enoughForClaim,
  type Identification,
  type InputNote,
  inForce,
  type KnownSet,
  latestReadings,
  type ParticleId,
  type RunId,
  resolvedCards,
  type Study,
  stateOfRound,
} from '../study/index.ts';
import { BY_EYE } from './known-pieces.ts';
import type { Look } from './ports.ts';

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

export interface Undecided {
  readonly round: string;
  /** Of each run: undecided pieces that are in its count, and those that are not. */
  readonly byRun: ReadonlyMap<RunId, { readonly counted: number; readonly left: number }>;
}

export interface Evidence {
  readonly answers: readonly BenchAnswer[];
  readonly sets: readonly KnownSet[];
  readonly drillAnswers: readonly DrillAnswer[];
  /** By test; by eye among them. */
  readonly rates: ReadonlyMap<string, DrillRates>;
  readonly confirmed: readonly Confirmed[];
  readonly undecided: Undecided | null;
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
): Confirmed {
  const last = new Map<ParticleId, BenchAnswer>();
  for (const answer of answers) if (answer.test === confirmation.test) last.set(answer.particle, answer);
  const strata = confirmation.strata.map((stratum) => {
    const said = stratum.drawn.flatMap((id) => last.get(id) ?? []).map(verdictOf);
    const passed = said.filter((one) => one === 'for').length;
    const failed = said.filter((one) => one === 'against').length;
    return { ...stratum, tested: passed + failed, passed, without: said.length - passed - failed };
  });
  const of = (side: ConfirmationStratum['side']): SideShare | null =>
    sideShare(
      strata.filter((one) => one.side === side),
      drill,
      confirmation.seed,
    );
  return { confirmation, strata, specimens: of('specimens'), controls: of('controls'), drill };
}

async function undecidedOf(look: Look, study: Study): Promise<Undecided | null> {
  for (const round of [...(await look.rounds.ofStudy(study.id))].reverse()) {
    const { takenOver } = stateOfRound(await look.roundEvents.ofRound(round.id));
    if (!takenOver) continue;
    const open = resolvedCards(round, latestReadings(await look.readings.ofRound(round.id))).flatMap(
      ({ card, call }) =>
        call === 'undecided' && card.side !== 'known' && card.particle ? [card.particle] : [],
    );
    const runs = new Map<string, RunId>();
    for (const filter of await look.filters.ofStudy(study.id)) runs.set(filter.id, filter.run);
    // one that somebody decided on since is undecided no more
    const since = new Set(
      (await look.marks.touching(open))
        .filter((mark) => mark.at > takenOver.at)
        .flatMap((mark) => mark.particles),
    );
    const homes = new Map<string, RunId | undefined>();
    const byRun = new Map<RunId, { counted: number; left: number }>();
    for (const particle of await look.particles.some(open)) {
      if (since.has(particle.id) || particle.standing === 'replaced') continue;
      if (!homes.has(particle.photo)) {
        const photo = await look.photos.get(particle.photo);
        homes.set(particle.photo, photo ? runs.get(photo.filter) : undefined);
      }
      const run = homes.get(particle.photo);
      if (!run) continue;
      const of = byRun.get(run) ?? { counted: 0, left: 0 };
      byRun.set(run, of);
      if (particle.standing === 'dropped') of.left += 1;
      else of.counted += 1;
    }
    return byRun.size === 0 ? null : { round: round.name, byRun };
  }
  return null;
}

export async function evidenceOf(look: Look, study: Study): Promise<Evidence> {
  const undos = await look.evidenceUndos.ofStudy(study.id);
  const answers = inForce(await look.benchAnswers.ofStudy(study.id), undos);
  const sets = await look.knownSets.ofStudy(study.id);
  const drillAnswers = inForce(await look.drillAnswers.ofStudy(study.id), undos);
  const rates = new Map<string, DrillRates>();
  for (const test of new Set(drillAnswers.map((answer) => answer.test))) {
    rates.set(
      test,
      drillRates(
        sets,
        drillAnswers.filter((answer) => answer.test === test),
      ),
    );
  }
  const confirmations = await look.confirmations.ofStudy(study.id);
  let confirmed: readonly Confirmed[] | null = null;
  return {
    answers,
    sets,
    drillAnswers,
    rates,
    undecided: await undecidedOf(look, study),
    // drawn when somebody asks: a mark on a particle reads the counts and not the shares
    get confirmed() {
      confirmed ??= confirmations.map((confirmation) =>
        confirmedBy(confirmation, answers, drillOf(rates.get(confirmation.test))),
      );
      return confirmed;
    },
  };
}

/** What goes into the claim. */
export interface WeighedEvidence {
  readonly drill: Drill | null;
  readonly confirmation: {
    readonly specimens: { readonly positive: number; readonly tested: number };
    readonly controls: { readonly positive: number; readonly tested: number };
  } | null;
  readonly identification: Identification | null;
  readonly undecided: Undecided | null;
  readonly notes: readonly InputNote[];
}

const note = (why: InputNote['why'], message: string): InputNote => ({
  why,
  message,
  place: 'evidence',
  run: null,
});

/** The most common name among the spectra that speak for plastic. */
function polymerOf(answers: readonly BenchAnswer[]): string | null {
  const times = new Map<string, number>();
  for (const answer of answers) {
    if (answer.test === 'spectrum' && verdictOf(answer) === 'for') {
      const name = String(answer.answer.value);
      times.set(name, (times.get(name) ?? 0) + 1);
    }
  }
  return [...times].sort((a, b) => b[1] - a[1])[0]?.[0] ?? null;
}

/** The newest subset that a test identifies anything by and that has results on both sides; else the eye and its drill. */
export function weighEvidence(evidence: Evidence): WeighedEvidence {
  const notes: InputNote[] = [];
  const { undecided } = evidence;
  const usable = evidence.confirmed.filter(
    ({ confirmation, specimens }) => benchTest(confirmation.test)?.identifies && specimens !== null,
  );
  const chosen = usable.at(-1);
  if (chosen?.specimens) {
    const { specimens, controls, confirmation, drill } = chosen;
    const name = benchTest(confirmation.test)!.name.toLowerCase();
    if (drill === null) {
      notes.push(
        note(
          'drill-too-small',
          `The ${name} was not drilled on enough known pieces: its errors are taken as none. Test ten known plastics and ten look-alikes at least.`,
        ),
      );
    }
    if (specimens.belowFloor) {
      notes.push(
        note(
          'share-cannot-be-stated',
          `No more of the product’s pieces passed the ${name} than the drill lets pass of look-alikes alone: what share is real cannot be stated, only that it is below ${Math.round(100 * specimens.share.upper)} %. Use a sharper test, or drill on more look-alikes.`,
        ),
      );
    }
    if (controls === null) {
      notes.push(
        note(
          'controls-not-tested',
          `Pieces of the controls were not put to the ${name}: what share of the background is real is not known, so the claim stays with what was told by eye.`,
        ),
      );
    } else {
      const by = benchTest(confirmation.test)!.identifies!;
      return {
        drill,
        confirmation: {
          specimens: { positive: specimens.positive, tested: specimens.worth },
          controls: { positive: controls.positive, tested: controls.worth },
        },
        identification: {
          by,
          polymer: by === 'polymer' ? polymerOf(evidence.answers) : null,
          share: specimens.share,
          tested: specimens.tested,
          passed: specimens.passed,
          atRandom: true,
        },
        undecided,
        notes,
      };
    }
  }
  const eye = evidence.rates.get(BY_EYE);
  if (eye && !enoughForClaim(eye)) {
    notes.push(
      note(
        'drill-too-small',
        `The drill by eye has ${eye.plastic.n} plastics and ${eye.others.n} look-alikes: ten of each at least are needed before it can correct the claim.`,
      ),
    );
  }
  return { drill: drillOf(eye), confirmation: null, identification: null, undecided, notes };
}
