/** What tests, drills and blinded rounds of a study say, gathered for the claim and for the screens. */
import { benchTest } from '../bench/index.ts';
import {
  type BenchAnswer,
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
  type RunId,
  resolvedCards,
  type Specimen,
  type Study,
  stateOfRound,
} from '../study/index.ts';
import {
  type Confirmed,
  confirmedBy,
  drillOf,
  FEWEST_OF_SPECIMEN,
  ofRunsThatCount,
  type SideShare,
  specimensOfDrawn,
  verdictOf,
} from './confirmed.ts';
import { BY_EYE } from './known-pieces.ts';
import type { Look } from './ports.ts';

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
  const confirmations = await ofRunsThatCount(look, study, await look.confirmations.ofStudy(study.id));
  const specimenOf = await specimensOfDrawn(look, study, confirmations);
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
        confirmedBy(confirmation, answers, drillOf(rates.get(confirmation.test)), specimenOf),
      );
      return confirmed;
    },
  };
}

/** What goes into the claim of a specimen. */
export interface WeighedEvidence {
  readonly drill: Drill | null;
  /** The test that the drill is of; null without one. */
  readonly drillTest: string | null;
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

/** The most common name among the spectra of drawn pieces that speak for plastic; pieces chosen by hand have no say. */
function polymerOf(answers: readonly BenchAnswer[], { strata }: Confirmed): string | null {
  const drawn = new Set(strata.flatMap((stratum) => stratum.drawn));
  const times = new Map<string, number>();
  for (const answer of answers) {
    if (!drawn.has(answer.particle)) continue;
    if (answer.test === 'spectrum' && verdictOf(answer) === 'for') {
      const name = String(answer.answer.value);
      times.set(name, (times.get(name) ?? 0) + 1);
    }
  }
  return [...times].sort((a, b) => b[1] - a[1])[0]?.[0] ?? null;
}

/**
 * The random part that the claim goes by: of those whose test identifies anything the newest that is done with results on
 * both sides, so that one just begun does not push it aside; else the newest with results on both sides; else the newest
 * with any on the specimens'.
 */
export function confirmationThatCounts(confirmed: readonly Confirmed[]): Confirmed | undefined {
  const usable = confirmed.filter(
    ({ confirmation, specimens }) => benchTest(confirmation.test)?.identifies && specimens !== null,
  );
  const both = usable.filter(({ controls }) => controls !== null);
  const isDone = ({ strata }: Confirmed): boolean =>
    strata.every((one) => one.tested + one.without === one.drawn.length);
  return both.findLast(isDone) ?? both.at(-1) ?? usable.at(-1);
}

/**
 * The subset that counts, if it has results on both sides; else the eye and its drill.
 * Of the specimens' side the share of this specimen where enough of it was tested, else that of all specimens together.
 */
export function weighEvidence(
  evidence: Evidence,
  specimen: Pick<Specimen, 'id' | 'name'> | null = null,
): WeighedEvidence {
  const notes: InputNote[] = [];
  const { undecided } = evidence;
  const chosen = confirmationThatCounts(evidence.confirmed);
  if (chosen?.specimens) {
    const { controls, confirmation, drill, ofSpecimen } = chosen;
    const name = benchTest(confirmation.test)!.name.toLowerCase();
    const own = specimen && ofSpecimen.get(specimen.id);
    const share = own ?? chosen.specimens;
    notes.push(...notesOn(share, drill, name));
    if (controls === null) {
      notes.push(
        note(
          'controls-not-tested',
          `Pieces of the controls were not put to the ${name}: what share of the background is real is not known, so the claim stays with what was told by eye.`,
        ),
      );
    } else {
      if (specimen && !own && chosen.several) notes.push(pooledNote(specimen.name, chosen.specimens, name));
      const by = benchTest(confirmation.test)!.identifies!;
      return {
        drill,
        drillTest: drill && confirmation.test,
        confirmation: {
          specimens: { positive: share.positive, tested: share.worth },
          controls: { positive: controls.positive, tested: controls.worth },
        },
        identification: {
          by,
          polymer: by === 'polymer' ? polymerOf(evidence.answers, chosen) : null,
          share: share.share,
          tested: share.tested,
          passed: share.passed,
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
  const drill = drillOf(eye);
  return { drill, drillTest: drill && BY_EYE, confirmation: null, identification: null, undecided, notes };
}

function notesOn(share: SideShare, drill: Drill | null, test: string): InputNote[] {
  const notes: InputNote[] = [];
  if (drill === null) {
    notes.push(
      note(
        'drill-too-small',
        `The ${test} was not drilled on enough known pieces: its errors are taken as none. Test ten known plastics and ten look-alikes at least.`,
      ),
    );
  }
  if (share.belowFloor) {
    notes.push(
      note(
        'share-cannot-be-stated',
        `No more of the product’s pieces passed the ${test} than the drill lets pass of look-alikes alone: what share is real cannot be stated, only that it is below ${Math.round(100 * share.share.upper)} %. Use a sharper test, or drill on more look-alikes.`,
      ),
    );
  }
  return notes;
}

const pooledNote = (specimen: string, all: SideShare, test: string): InputNote =>
  note(
    'share-pooled',
    `Fewer than ${FEWEST_OF_SPECIMEN} pieces of “${specimen}” were put to the ${test} with a result: the share of all specimens together (${all.passed} of ${all.tested} passed) is used for it. Test more of its pieces to give it a share of its own.`,
  );
