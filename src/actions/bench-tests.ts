/** Bench tests on particles: answers, results brought in from elsewhere, and taking them back. */
import { acceptAnswer, benchTest, classOfName, outsideRange } from '../bench/index.ts';
import {
  type AsGiven,
  type BenchAnswer,
  type EvidenceUndo,
  inForce,
  makeBenchAnswer,
  makeEvidenceUndo,
  type ParticleRecord,
  type StudyId,
  type TestPicture,
} from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { asId, known } from './known.ts';
import type { Desk, Look, PhotoSource, Tools } from './ports.ts';

type Bench = Pick<Tools, 'records' | 'clock' | 'names'>;

interface AtHome {
  readonly particle: ParticleRecord;
  readonly study: StudyId;
  readonly material: string;
}

/** A particle with the study that it belongs to and what its filter is made of. */
export async function particleAtHome(look: Look, id: string): Promise<Outcome<AtHome>> {
  const particle = await known(look.particles.get(asId(id)), 'particle', id);
  if (!particle.ok) return particle;
  const photo = await look.photos.get(particle.value.photo);
  const filter = photo && (await look.filters.get(photo.filter));
  const run = filter && (await look.runs.get(filter.run));
  if (!filter || !run) throw new Error(`particle ${id} has no run`);
  return done({ particle: particle.value, study: run.study, material: filter.material });
}

/** The answer after which nothing of the particle is left to test; null while it is there. */
async function usedUpBy(look: Look, study: StudyId, particle: ParticleRecord): Promise<BenchAnswer | null> {
  const answers = inForce(
    await look.benchAnswers.ofParticle(particle.id),
    await look.evidenceUndos.ofStudy(study),
  );
  // what only moved in the air is still there
  const isGone = ({ test, answer: { value } }: BenchAnswer): boolean =>
    value === 'lost' || (benchTest(test)?.destroys === true && value !== 'moved-by-air');
  return answers.find(isGone) ?? null;
}

/** Refuses `used-up`, naming the test, where nothing of the particle is left to test. */
export async function stillThere(
  look: Look,
  study: StudyId,
  particle: ParticleRecord,
): Promise<Outcome<ParticleRecord>> {
  const gone = await usedUpBy(look, study, particle);
  if (gone === null) return done(particle);
  const by = await look.people.get(gone.by);
  const how = gone.answer.value === 'lost' ? 'was lost in' : 'was used up by';
  return refused({
    why: 'used-up',
    message: `Particle ${particle.number} ${how} the test “${benchTest(gone.test)?.name ?? gone.test}” (${by?.name ?? 'somebody'}, ${gone.at.slice(0, 10)}) and cannot be tested again; choose another, or undo that answer if it was a slip.`,
  });
}

export interface AnswerWish {
  readonly particle: string;
  readonly test: string;
  readonly value: string | number;
  readonly setting: string | null;
  readonly before: string | null;
  readonly after: string | null;
  /** Moved off the filter, onto glass: what must not be done on the filter may be done there. */
  readonly onGlass: boolean;
  readonly note: string;
  readonly by: string;
}

async function answerOn(
  desk: Desk,
  { clock, names }: Pick<Bench, 'clock' | 'names'>,
  wish: AnswerWish,
  origin: BenchAnswer['origin'],
): Promise<Outcome<BenchAnswer>> {
  const person = await known(desk.people.get(asId(wish.by)), 'person', wish.by);
  if (!person.ok) return person;
  const test = benchTest(wish.test);
  if (!test) {
    return refused({
      why: 'no-such-test',
      message: `There is no bench test “${wish.test}”; choose one of the list.`,
    });
  }
  const accepted = acceptAnswer(test, { value: wish.value, setting: wish.setting });
  if (!accepted.ok) return accepted;
  const home = await particleAtHome(desk, wish.particle);
  if (!home.ok) return home;
  const { particle, study, material } = home.value;
  const there = await stillThere(desk, study, particle);
  if (!there.ok) return there;
  for (const picture of [wish.before, wish.after]) {
    if (picture === null) continue;
    const there = await known(desk.testPictures.get(asId(picture)), 'picture', picture);
    if (!there.ok) return there;
  }
  const outside = outsideRange(test, {
    feretMaxUm: particle.feretMaxUm,
    shape: particle.shapeNow,
    filterMaterial: wish.onGlass || origin === 'table' ? null : material,
  });
  const made = makeBenchAnswer({
    id: names.next(),
    study,
    particle: particle.id,
    test: test.id,
    edition: test.edition,
    answer: accepted.value,
    origin,
    outside,
    before: wish.before,
    after: wish.after,
    note: wish.note,
    by: wish.by,
    at: clock.now(),
  } as AsGiven<BenchAnswer>);
  if (made.ok) await desk.benchAnswers.add(made.value);
  return made;
}

/** Records what a bench test ended with; a particle that was used up cannot be tested again. */
export const answerBenchTest = (bench: Bench, wish: AnswerWish): Promise<Outcome<BenchAnswer>> =>
  bench.records.change((desk) => answerOn(desk, bench, wish, 'bench'));

/** A line of a table that came back from another laboratory. */
export interface ResultLine {
  readonly line: number;
  readonly particle: string;
  readonly material: string;
}

/**
 * Takes results in, all or none: a table of which a part is wrong is wrong. Materials that no class is known for are
 * refused with their line, so that nothing is silently taken as “not plastic”.
 */
export const importResults = (
  bench: Bench,
  wish: { readonly lines: readonly ResultLine[]; readonly setting: string; readonly by: string },
): Promise<Outcome<readonly BenchAnswer[]>> =>
  bench.records.change(async (desk) => {
    if (wish.lines.length === 0) {
      return refused({
        why: 'no-results',
        message: 'The table holds no line with a particle and a material.',
      });
    }
    const seen = new Map<string, number>();
    const made: BenchAnswer[] = [];
    for (const { line, particle, material } of wish.lines) {
      const before = seen.get(particle);
      if (before !== undefined) {
        return refused({
          why: 'twice-in-table',
          message: `Line ${line}: particle ${particle} has a result on line ${before} already; keep one of the two.`,
        });
      }
      seen.set(particle, line);
      if (material !== 'cannot-tell' && classOfName(material) === null) {
        return refused({
          why: 'material-not-known',
          message: `Line ${line}: the material “${material}” is not known here; write its common name, or cannot-tell.`,
        });
      }
      const answer = await answerOn(
        desk,
        bench,
        {
          particle,
          test: 'spectrum',
          value: material,
          setting: wish.setting,
          before: null,
          after: null,
          onGlass: false,
          note: `From a table, line ${line}.`,
          by: wish.by,
        },
        'table',
      );
      if (!answer.ok)
        return refused({ ...answer.refusal, message: `Line ${line}: ${answer.refusal.message}` });
      made.push(answer.value);
    }
    return done(made);
  });

/** Takes back a bench answer, a drill answer or an undo, by a further record. */
export async function undoEvidence(
  bench: Bench,
  wish: { readonly study: string; readonly undoes: string; readonly by: string },
): Promise<Outcome<EvidenceUndo>> {
  const made = await undoEvidenceTogether(bench, { ...wish, undoes: [wish.undoes] });
  return made.ok ? done(made.value[0]!) : made;
}

/** Takes several back at once, such as a whole drill: all or none. */
export const undoEvidenceTogether = (
  { records, clock, names }: Bench,
  wish: { readonly study: string; readonly undoes: readonly string[]; readonly by: string },
): Promise<Outcome<readonly EvidenceUndo[]>> =>
  records.change(async (desk) => {
    const study = await known(desk.studies.get(asId(wish.study)), 'study', wish.study);
    if (!study.ok) return study;
    const person = await known(desk.people.get(asId(wish.by)), 'person', wish.by);
    if (!person.ok) return person;
    const undos = await desk.evidenceUndos.ofStudy(study.value.id);
    // a record is undone once; to take back again what was put back, the putting back is undone
    const standing = new Set(undos.map((undo) => undo.undoes));
    const all: EvidenceUndo[] = [];
    for (const undoes of wish.undoes) {
      const subject =
        (await desk.benchAnswers.get(asId(undoes))) ??
        (await desk.drillAnswers.get(asId(undoes))) ??
        undos.find((undo) => undo.id === undoes) ??
        null;
      if (subject?.study !== study.value.id) {
        return refused({
          why: 'no-such-answer',
          message: 'There is no such answer in this study; read the list anew.',
        });
      }
      if (standing.has(undoes)) {
        return refused({
          why: 'nothing-to-undo',
          message: 'This answer was taken back already; read the list anew.',
        });
      }
      standing.add(undoes);
      const made = makeEvidenceUndo({
        study: wish.study,
        undoes,
        by: wish.by,
        id: names.next(),
        at: clock.now(),
      });
      if (!made.ok) return made;
      await desk.evidenceUndos.add(made.value);
      all.push(made.value);
    }
    return done(all);
  });

/** Largest picture of a bench test. */
const MOST_BYTES = 256 * 2 ** 20;

/** Keeps a picture taken while a particle was tested: the original first, then the record. */
export async function addTestPicture(
  { records, files, work, clock, names }: Omit<Tools, 'close'>,
  wish: {
    readonly particle: string;
    readonly name: string;
    readonly source: PhotoSource;
    readonly by: string;
  },
): Promise<Outcome<TestPicture>> {
  const home = await records.look((look) => particleAtHome(look, wish.particle));
  if (!home.ok) return home;
  const taken = await files.takeIn(wish.source, MOST_BYTES);
  if (!taken.ok) return taken;
  const facts = await work.inspect(taken.value.path, wish.name);
  if (!facts.ok) {
    await taken.value.discard();
    return facts;
  }
  await taken.value.keep();
  return records.change(async (desk) => {
    const person = await known(desk.people.get(asId(wish.by)), 'person', wish.by);
    if (!person.ok) return person;
    const picture: TestPicture = {
      id: names.next(),
      study: home.value.study,
      particle: home.value.particle.id,
      sha256: taken.value.sha256,
      name: wish.name.replace(/\p{Cc}/gu, ' ').slice(0, 255) || 'picture',
      bytes: taken.value.bytes,
      format: facts.value.format,
      by: person.value.id,
      at: clock.now(),
    };
    await desk.testPictures.add(picture);
    return done(picture);
  });
}
