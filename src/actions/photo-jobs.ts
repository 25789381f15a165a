import type { Instant, Photo, StudyId } from '../study/index.ts';
import { done, type Outcome, type Refusal, refused } from '../units/index.ts';
import { findOnPhoto } from './find-on-photo.ts';
import { asId, known, studyOfPhoto } from './known.ts';
import type { PhotoSearchState, SearchState } from './ledgers-groups.ts';
import type { Tools } from './ports.ts';

/** What happens to a photo's search, told to every server of the group. */
export interface SearchWord {
  readonly photo: string;
  readonly study: string;
  readonly filter: string;
  readonly state: SearchState;
  readonly share: number;
  readonly refusal: Refusal | null;
}

export interface PhotoJob {
  readonly photo: string;
  readonly study: string;
  /** Greater goes first. */
  readonly priority: number;
}

/** A queue of photos to search that any number of workers draw from. */
export interface PhotoJobs {
  /** Durable when it resolves; a photo that waits or is being searched is not taken in twice. */
  add(job: PhotoJob): Promise<void>;
  /**
   * Draws up to `atOnce` jobs at a time (one, where not said) until closed. A job that throws, or whose worker dies, is drawn again; the third time its
   * photo is given to `setAside`.
   */
  work(
    take: (job: Pick<PhotoJob, 'photo'>, tries: number) => Promise<void>,
    setAside: (photo: string, reason: string) => Promise<void>,
    atOnce?: number,
  ): Promise<void>;
  tell(word: SearchWord): Promise<void>;
  /**
   * `takenUp` is called each time the hearing begins, the first time and after every break: what was told before must
   * be read from the records.
   */
  listen(hear: (word: SearchWord) => void, takenUp: () => Promise<void>): Promise<void>;
  close(): Promise<void>;
}

/** How often a photo is tried before it is set aside. */
export const TRIES = 3;

type Books = Pick<Tools, 'records' | 'clock'>;

/**
 * Puts a photo into the queue. Fair between studies: a study's first waiting photo goes before every study's second, so
 * that somebody with one photo does not wait behind somebody with a thousand.
 */
export async function queuePhoto(
  { records, clock }: Books,
  jobs: PhotoJobs,
  { photo, study }: { readonly photo: Photo; readonly study: StudyId },
): Promise<void> {
  const before = await records.change(async (desk) => {
    const waiting = await desk.searches.waiting(study);
    await desk.searches.put(stateOf(photo, study, 'waiting', null, 0, '', clock.now()));
    return waiting;
  });
  await jobs.add({ photo: photo.id, study, priority: -before });
}

const stateOf = (
  photo: Pick<Photo, 'id'>,
  study: StudyId,
  state: SearchState,
  refusal: Refusal | null,
  tries: number,
  worker: string,
  at: Instant,
): PhotoSearchState => ({ photo: photo.id, study, state, refusal, tries, worker, at });

/** Why a photo has no finding that nobody wants searched for now. */
export const STOPPED: Refusal = {
  why: 'stopped',
  message: 'The search was stopped before it came to this photograph; take it up again when you like.',
};

/** Stops the search of a photo that waits; false where it was begun or ended meanwhile. A worker that draws it passes it by. */
export async function stopPhoto(
  { records, clock }: Books,
  jobs: PhotoJobs,
  { photo, study }: { readonly photo: Photo; readonly study: StudyId },
): Promise<boolean> {
  const stopped = await records.change(async (desk) => {
    if ((await desk.searches.of(photo.id))?.state !== 'waiting') return false;
    await desk.searches.put(stateOf(photo, study, 'refused', STOPPED, 0, '', clock.now()));
    return true;
  });
  if (stopped) {
    await jobs.tell({
      photo: photo.id,
      study,
      filter: photo.filter,
      state: 'refused',
      share: 0,
      refusal: STOPPED,
    });
  }
  return stopped;
}

/** Searches one photo for the group and says how it went. What was found before for the same photo and method is not done again. */
export async function searchForGroup(
  tools: Tools,
  jobs: PhotoJobs,
  wish: { readonly photo: string; readonly tries: number; readonly worker: string },
): Promise<Outcome<void>> {
  const { records, clock } = tools;
  const home = await homeOf(tools, wish.photo);
  if (!home.ok) return home;
  const { photo, study } = home.value;
  const stands = await records.look((look) => look.searches.of(photo.id));
  if (stands?.refusal?.why === STOPPED.why) return done(undefined);
  let told = Promise.resolve();
  const say = async (state: SearchState, share: number, refusal: Refusal | null = null) => {
    // The end is told after all progress, or it would be overtaken and the photo seem to be searched for ever.
    if (state !== 'searching') await told;
    if (state !== 'searching' || share === 0) {
      const word = stateOf(photo, study, state, refusal, wish.tries, wish.worker, clock.now());
      await records.change((desk) => desk.searches.put(word));
    }
    await jobs.tell({ photo: photo.id, study, filter: photo.filter, state, share, refusal });
  };
  await say('searching', 0);
  const found = await findOnPhoto(tools, {
    photo: photo.id,
    progress: (share) => {
      told = told.then(() => say('searching', share)).catch(() => {});
    },
  });
  if (found.ok) {
    const { refusal } = found.value.finding;
    await say(refusal && found.value.particles === 0 ? 'refused' : 'searched', 1, refusal);
  } else {
    await say('refused', 1, found.refusal);
  }
  return done(undefined);
}

/** A photo that failed three times waits for a person, with the reason; the others go on. */
export async function setPhotoAside(
  tools: Tools,
  jobs: PhotoJobs,
  wish: { readonly photo: string; readonly reason: string },
): Promise<Outcome<void>> {
  const home = await homeOf(tools, wish.photo);
  if (!home.ok) return home;
  const { photo, study } = home.value;
  const refusal: Refusal = {
    why: 'set-aside',
    message: `“${photo.name}” was set aside after ${TRIES} tries (${wish.reason}); look at the file, then search it again.`,
  };
  const word = stateOf(photo, study, 'set-aside', refusal, TRIES, '', tools.clock.now());
  await tools.records.change((desk) => desk.searches.put(word));
  await jobs.tell({ photo: photo.id, study, filter: photo.filter, state: 'set-aside', share: 1, refusal });
  return done(undefined);
}

const homeOf = ({ records }: Tools, id: string): Promise<Outcome<{ photo: Photo; study: StudyId }>> =>
  records.look(async (look) => {
    const photo = await known(look.photos.get(asId(id)), 'photo', id);
    if (!photo.ok) return photo;
    const study = await studyOfPhoto(look, photo.value);
    return study
      ? done({ photo: photo.value, study: study.id })
      : refused({ why: 'no-such-study', message: `The photo ${id} belongs to no study.` });
  });
