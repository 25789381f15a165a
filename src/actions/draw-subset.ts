/** A random subset to be confirmed: drawn within strata, controls' pieces among them. */
import { benchTest } from '../bench/index.ts';
import { allocate, drawWithin, type Stratum } from '../science/evidence/index.ts';
import {
  type Confirmation,
  inForce,
  makeConfirmation,
  type ParticleId,
  type Side,
  type SideStratum,
  strataByLooks,
} from '../study/index.ts';
import { type Outcome, refused } from '../units/index.ts';
import { candidatesOf } from './candidates.ts';
import { countStudy } from './count-runs.ts';
import { judgedRuns } from './judged-runs.ts';
import { asId, known, nameFree } from './known.ts';
import type { Tools } from './ports.ts';
import { freshSeed } from './seed.ts';

export interface SubsetWish {
  readonly study: string;
  readonly name: string;
  readonly test: string;
  /** How many pieces in all. */
  readonly pieces: number;
  readonly seed?: number;
  readonly by: string;
}

/** Draws which counted pieces to test next: kept and undecided ones of the specimen runs and controls that the claim rests on. */
export const drawSubset = (
  { records, clock, names }: Pick<Tools, 'records' | 'clock' | 'names'>,
  wish: SubsetWish,
): Promise<Outcome<Confirmation>> =>
  records.change(async (desk) => {
    const study = await known(desk.studies.get(asId(wish.study)), 'study', wish.study);
    if (!study.ok) return study;
    const person = await known(desk.people.get(asId(wish.by)), 'person', wish.by);
    if (!person.ok) return person;
    const test = benchTest(wish.test);
    if (!test) {
      return refused({
        why: 'no-such-test',
        message: `There is no bench test “${wish.test}”; choose one of the list.`,
      });
    }
    if (!(Number.isSafeInteger(wish.pieces) && wish.pieces >= 1)) {
      return refused({
        why: 'out-of-range',
        message: `subset: a whole number of pieces from 1 is needed, given ${wish.pieces}.`,
      });
    }
    const before = await desk.confirmations.ofStudy(study.value.id);
    const free = nameFree(wish.name, before, 'subset');
    if (!free.ok) return free;
    const undos = await desk.evidenceUndos.ofStudy(study.value.id);
    const answers = inForce(await desk.benchAnswers.ofStudy(study.value.id), undos);
    const drawnBefore = drawnFor(before, test.id);
    // One that somebody chose by hand for this test may still be drawn, and then its answer stands: if the pieces that were
    // picked for their looks could not be drawn, what is left would no longer stand for all.
    const usedUp = new Set(
      answers
        .filter(
          (a) =>
            a.answer.value === 'lost' ||
            (a.test === test.id ? drawnBefore.has(a.particle) : benchTest(a.test)?.destroys),
        )
        .map((a) => a.particle),
    );
    const judged = judgedRuns(await countStudy(desk, study.value));
    const counted = (await candidatesOf(desk, study.value, ['id'])).flatMap(({ particle, run, side }) =>
      side !== null && particle.standing !== 'dropped' && (!judged || judged.has(run.id))
        ? [{ ...particle, side }]
        : [],
    );
    const strata = strataByLooks(counted);
    if (strata.length === 0) {
      return refused({
        why: 'nothing-to-test',
        message:
          'No piece is counted in this study yet; search photographs and keep what belongs to the count first.',
      });
    }
    const drawable = strata.map(({ name, side, pieces }) => ({
      name: `${side} ${name}`,
      untested: pieces.filter((id) => !usedUp.has(id)),
    }));
    const frame = strata.map(
      ({ name }, i): Stratum => ({
        name,
        pieces: drawable[i]!.untested,
        tested: 0,
        passed: 0,
      }),
    );
    const seed = wish.seed ?? freshSeed(names);
    const drawn = drawWithin(drawable, takeOfEach(frame, strata, wish.pieces), seed);
    if (drawn.length === 0) {
      return refused({
        why: 'nothing-to-test',
        message:
          'Every counted piece was tested by this test or used up by another; there is none left to draw.',
      });
    }
    const made = makeConfirmation({
      id: names.next(),
      study: study.value.id,
      name: wish.name,
      test: test.id,
      seed,
      strata: strata.map(({ name, side, pieces }) => ({
        name,
        side,
        pieces: pieces.length,
        drawn: drawn.filter((one) => one.stratum === `${side} ${name}`).map((one) => one.piece),
      })),
      by: wish.by,
      at: clock.now(),
    });
    if (made.ok) await desk.confirmations.add(made.value);
    return made;
  });

/** Pieces that random parts were drawn of for a test. */
export const drawnFor = (confirmations: readonly Confirmation[], test: string): ReadonlySet<ParticleId> =>
  new Set(
    confirmations
      .filter((one) => one.test === test)
      .flatMap(({ strata }) => strata.flatMap(({ drawn }) => drawn)),
  );

/** The controls' pieces get this part at least: an untested background leaves the claim where it was. Project choice. */
const CONTROLS_LEAST = 0.25;

function takeOfEach(frame: readonly Stratum[], strata: readonly SideStratum[], pieces: number): number[] {
  const left = (side: Side): number =>
    frame.reduce((sum, one, i) => sum + (strata[i]!.side === side ? one.pieces.length : 0), 0);
  const controls = Math.min(
    left('controls'),
    Math.max(Math.ceil(CONTROLS_LEAST * pieces), pieces - left('specimens')),
  );
  const of = (side: Side, more: number): readonly number[] => {
    const mine = frame.flatMap((one, i) => (strata[i]!.side === side ? [{ one, i }] : []));
    const take = allocate(
      mine.map(({ one }) => one),
      more,
    );
    const out = frame.map(() => 0);
    for (const [k, { i }] of mine.entries()) out[i] = take[k]!;
    return out;
  };
  const forControls = of('controls', controls);
  const forSpecimens = of('specimens', pieces - controls);
  return frame.map((_, i) => forControls[i]! + forSpecimens[i]!);
}
