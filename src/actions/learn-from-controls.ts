/** What false finds each setting gives on a study's own controls: their photographs searched at several, kept on record. */
import { ratesBySetting, type SearchedBlank } from '../science/counting/index.ts';
import type { FindWish } from '../science/imaging/finding.ts';
import {
  blankFinds,
  type DroppedAre,
  type Filter,
  type MeasuredFalseFinds,
  type ParticleId,
  type ParticleRecord,
  type Photo,
  type Run,
  type RunKind,
  type Study,
} from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { wishOf } from './find-on-photo.ts';
import { asId, known } from './known.ts';
import type { Look, Tools } from './ports.ts';

const CONFIDENCE = 0.95;

/** Nothing of the product or its act reaches these: their membranes are the barest. */
const BAREST: readonly RunKind[] = ['filter-blank', 'reagent-blank', 'procedural-blank'];
/** Known pieces or material lie on these. */
const NOT_BLANK: readonly RunKind[] = ['specimen', 'spiked-run', 'known-material'];

/** A control's filter whose photographs can be learnt from. */
export interface LearningControl {
  readonly filter: Filter;
  readonly run: Run;
  readonly photos: readonly Photo[];
  /** Whether it is of a kind whose membrane is the barest. */
  readonly barest: boolean;
}

/** Controls of a study with photographs that were searched already, so that people may have decided on what lies there. */
export async function controlsToLearnFrom(look: Look, study: Study): Promise<readonly LearningControl[]> {
  const runs = new Map((await look.runs.ofStudy(study.id)).map((run) => [run.id, run]));
  const photos = (await look.photos.linesOfStudy(study.id)).filter(
    ({ finding, refusal }) => finding !== null && (refusal === null || refusal.why === 'no-scale'),
  );
  return (await look.filters.ofStudy(study.id)).flatMap((filter) => {
    const run = runs.get(filter.run)!;
    const own = photos.filter((photo) => photo.filter === filter.id);
    if (NOT_BLANK.includes(run.kind) || own.length === 0) return [];
    return [{ filter, run, photos: own, barest: BAREST.includes(run.kind) }];
  });
}

interface ToSearch {
  readonly photo: Photo;
  readonly wish: FindWish;
  /** What the newest finding holds, as people decided on it. */
  readonly pieces: readonly ParticleRecord[];
}

interface Chosen {
  readonly study: Study;
  readonly photos: readonly ToSearch[];
  readonly tested: ReadonlySet<ParticleId>;
}

async function chosenOf(look: Look, id: string, filters: readonly string[]): Promise<Outcome<Chosen>> {
  const study = await known(look.studies.get(asId(id)), 'study', id);
  if (!study.ok) return study;
  const controls = (await controlsToLearnFrom(look, study.value)).filter(({ filter }) =>
    filters.includes(filter.id),
  );
  const photos: ToSearch[] = [];
  for (const photo of controls.flatMap((control) => control.photos)) {
    const finding = (await look.findings.newest(photo.id))!;
    const pieces = await look.particles.ofFinding(finding.id);
    photos.push({ photo, wish: await wishOf(look, photo), pieces });
  }
  if (photos.length === 0) {
    return refused({
      why: 'no-control-photograph',
      message: 'None of the chosen filters is of a control with a searched photograph: choose another.',
    });
  }
  const tested = new Set((await look.benchAnswers.ofStudy(study.value.id)).map(({ particle }) => particle));
  return done({ study: study.value, photos, tested });
}

/** Minutes of work on large photographs: tells how far it is, and can be stopped; then nothing is kept. */
export async function learnFromControls(
  { records, files, work, clock, names }: Tools,
  wish: {
    readonly study: string;
    readonly filters: readonly string[];
    /** False finds a blank photograph that are acceptable. */
    readonly wanted: number;
    readonly droppedAre: DroppedAre;
    readonly by: string;
    /** How many searches are done, of how many as far as is known: further settings follow where they are needed. */
    readonly told: (done: number, of: number) => void;
    /** Ends the work when it resolves, after the search under way. */
    readonly stopped?: Promise<unknown>;
  },
): Promise<Outcome<MeasuredFalseFinds>> {
  const chosen = await records.look((look) => chosenOf(look, wish.study, wish.filters));
  if (!chosen.ok) return chosen;
  const { study, photos, tested } = chosen.value;
  let stop = false;
  void wish.stopped?.then(() => {
    stop = true;
  });
  let searches = 0;
  const searchAt = async (asked: number): Promise<Outcome<readonly SearchedBlank[]>> => {
    const blanks: SearchedBlank[] = [];
    const of = searches + photos.length;
    // One after another: each takes all cores, and what people bring in meanwhile waits for one photograph only.
    for (const { photo, wish: usual, pieces } of photos) {
      if (stop) return refused({ why: 'stopped', message: 'Stopped before the end; start it again.' });
      wish.told(searches, of);
      const found = await files.withFile(photo.sha256, (path) =>
        work.find({ path, name: photo.name, sha256: photo.sha256 }, { ...usual, falseFindsPerBlank: asked }),
      );
      if (!found.ok) return found;
      searches++;
      const { particles, searchedFraction } = found.value;
      if (searchedFraction > 0) {
        blanks.push({
          searched: searchedFraction,
          ...blankFinds(particles, pieces, tested, wish.droppedAre),
        });
      }
    }
    if (blanks.length > 0) return done(blanks);
    return refused({ why: 'not-searched', message: 'None of the chosen photographs could be searched.' });
  };
  const rates = await ratesBySetting(wish.wanted, CONFIDENCE, searchAt);
  if (!rates.ok) return rates;
  return records.change(async (desk) => {
    const person = await known(desk.people.get(asId(wish.by)), 'person', wish.by);
    if (!person.ok) return person;
    const record: MeasuredFalseFinds = {
      id: names.next(),
      study: study.id,
      photos: photos.map(({ photo }) => photo.id),
      result: {
        method: work.method,
        version: work.version,
        wanted: wish.wanted,
        smallestUm: photos[0]!.wish.smallest,
        droppedAre: wish.droppedAre,
        confidence: CONFIDENCE,
        rates: rates.value,
      },
      by: person.value.id,
      at: clock.now(),
    };
    await desk.falseFinds.add(record);
    return done(record);
  });
}
