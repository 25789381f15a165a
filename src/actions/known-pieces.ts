/** Known pieces and drills on them. */
import { benchTest } from '../bench/index.ts';
import {
  type AsGiven,
  type DrillAnswer,
  type KnownPiece,
  type KnownSet,
  makeDrillAnswer,
  makeKnownSet,
} from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { asId, known, nameFree } from './known.ts';
import type { Tools } from './ports.ts';

type Bench = Pick<Tools, 'records' | 'clock' | 'names'>;

/** What by eye is called where tests are named. */
export const BY_EYE = 'by-eye';

/** Writes down pieces whose material is known, with how they were made. */
export const addKnownSet = (
  { records, clock, names }: Bench,
  wish: {
    readonly study: string;
    readonly name: string;
    readonly made: string;
    readonly pieces: readonly AsGiven<KnownPiece>[];
    readonly by: string;
  },
): Promise<Outcome<KnownSet>> =>
  records.change(async (desk) => {
    const study = await known(desk.studies.get(asId(wish.study)), 'study', wish.study);
    if (!study.ok) return study;
    const person = await known(desk.people.get(asId(wish.by)), 'person', wish.by);
    if (!person.ok) return person;
    const free = nameFree(wish.name, await desk.knownSets.ofStudy(study.value.id), 'set of known pieces');
    if (!free.ok) return free;
    const named = wish.pieces.flatMap((piece) => (piece.particle === null ? [] : [piece.particle]));
    const there = await desk.particles.some(named.map((id) => asId<'particle'>(id)));
    if (there.length < new Set(named).size) {
      return refused({
        why: 'no-such-particle',
        message: `known pieces “${wish.name}”: not all of the particles named are in this laboratory; read the photo anew.`,
      });
    }
    const made = makeKnownSet({ ...wish, id: names.next(), at: clock.now() });
    if (made.ok) await desk.knownSets.add(made.value);
    return made;
  });

/** What somebody says of known pieces, announced as a drill; gives the answers that were not kept before. */
export const answerDrill = (
  { records, clock, names }: Bench,
  wish: {
    readonly set: string;
    /** An `id` is the sender's own name of an answer: sent twice, it is kept once. */
    readonly answers: readonly {
      readonly id?: string | undefined;
      readonly piece: string;
      readonly called: string;
    }[];
    readonly test: string;
    readonly by: string;
  },
): Promise<Outcome<readonly DrillAnswer[]>> =>
  records.change(async (desk) => {
    const set = await known(desk.knownSets.get(asId(wish.set)), 'set of known pieces', wish.set);
    if (!set.ok) return set;
    const person = await known(desk.people.get(asId(wish.by)), 'person', wish.by);
    if (!person.ok) return person;
    if (wish.test !== BY_EYE && !benchTest(wish.test)) {
      return refused({
        why: 'no-such-test',
        message: `There is no bench test “${wish.test}”; choose one of the list.`,
      });
    }
    const made: DrillAnswer[] = [];
    const at = clock.now();
    for (const { id, piece, called } of wish.answers) {
      const kept = id === undefined ? null : await desk.drillAnswers.get(asId(id));
      if (kept) {
        const same = kept.set === set.value.id && kept.piece === piece && kept.called === called;
        if (same && kept.by === person.value.id) continue;
        return refused({
          why: 'id-taken',
          message: `Another answer bears the name ${id}; give each answer its own.`,
        });
      }
      if (!set.value.pieces.some((one) => one.key === piece)) {
        return refused({
          why: 'no-such-piece',
          message: `The set “${set.value.name}” has no piece “${piece}”; read the list anew.`,
        });
      }
      const answer = makeDrillAnswer({
        id: id ?? names.next(),
        study: set.value.study,
        set: set.value.id,
        piece,
        test: wish.test,
        called,
        announced: true,
        by: wish.by,
        at,
      });
      if (!answer.ok) return answer;
      made.push(answer.value);
    }
    await desk.drillAnswers.add(made);
    return done(made);
  });
