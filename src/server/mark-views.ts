/** Marks as they come in and go out. */
import {
  type ByHand,
  countedSizes,
  type Marked,
  markByHand,
  markParticles,
  redo,
  undo,
} from '../actions/index.ts';
import type { MarkAnswer, MarkJson, MarkWish } from '../api/index.ts';
import {
  type AsGiven,
  type Decision,
  type Id,
  type Mark,
  type MarkId,
  marksInForce,
  type Study,
} from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import type { PhotoQueue } from './photo-queue.ts';
import { countingFor, disagreeOf, markedParticle, photoAtHome } from './photo-views.ts';
import type { Served } from './served.ts';

/** How many marks the list shows. */
const LATEST = 200;

const asId = <K extends string>(id: string): Id<K> => id as Id<K>;

type OfHand = Extract<MarkWish, { deed: ByHand['deed'] }>;
const HAND: ReadonlySet<string> = new Set<ByHand['deed']>(['split', 'merge', 'redraw', 'draw']);
const isOfHand = (wish: MarkWish): wish is OfHand => HAND.has(wish.deed);

function handOf(wish: OfHand): ByHand {
  switch (wish.deed) {
    case 'split':
      return { deed: 'split', particle: wish.particles[0]!, cut: wish.cut };
    case 'merge':
      return { deed: 'merge', particles: wish.particles };
    case 'redraw':
      return { deed: 'redraw', particle: wish.particles[0]!, outline: wish.outline };
    case 'draw':
      return { deed: 'draw', outline: wish.outline, shape: wish.shape, colour: wish.colour };
  }
}

function decisionOf(wish: Exclude<MarkWish, OfHand>): AsGiven<Decision> {
  if (wish.deed === 'class') return { kind: 'class', shape: wish.shape };
  if (wish.deed === 'colour') return { kind: 'colour', colour: wish.colour };
  return { kind: wish.deed };
}

function markJson(mark: Mark, by: string, undone: boolean): MarkJson {
  const { decision } = mark;
  return {
    id: mark.id,
    photo: mark.photo,
    particles: [...mark.particles],
    deed: decision.kind,
    by,
    at: mark.at,
    undone,
  };
}

/** The answer to a mark, and the word to everybody who listens. */
async function answer(served: Served, queue: PhotoQueue, study: Study, marked: Marked): Promise<MarkAnswer> {
  const { counted, others, disagree, by } = await served.records.look(async (look) => ({
    counted: await countedSizes(look, study),
    others: await countingFor(look, marked.particles),
    disagree: await disagreeOf(look, await look.marks.touching(marked.particles.map(({ id }) => id))),
    by: (await look.people.get(marked.mark.by))?.name ?? '',
  }));
  queue.tell({ what: 'marks', study: study.id, photo: marked.mark.photo });
  return {
    mark: markJson(marked.mark, by, false),
    particles: marked.particles
      .filter((particle) => particle.standing !== 'replaced')
      .map((particle) => markedParticle(particle, counted, others, disagree)),
    gone: marked.particles
      .filter((particle) => particle.standing === 'replaced')
      .map((particle) => particle.id),
  };
}

export async function markDeed(
  served: Served,
  queue: PhotoQueue,
  photo: string,
  wish: MarkWish,
): Promise<Outcome<MarkAnswer>> {
  const home = await served.records.look((look) => photoAtHome(look, photo));
  if (!home.ok) return home;
  const by = served.person;
  const marked = isOfHand(wish)
    ? await markByHand(served, { photo, by, hand: handOf(wish) })
    : await markParticles(served, { photo, particles: wish.particles, decision: decisionOf(wish), by });
  return marked.ok ? done(await answer(served, queue, home.value.study, marked.value)) : marked;
}

const taking =
  (deed: typeof undo) =>
  async (served: Served, queue: PhotoQueue, studyId: string): Promise<Outcome<MarkAnswer>> => {
    const study = await served.records.look((look) => look.studies.get(asId(studyId)));
    if (!study) return noStudy(studyId);
    const marked = await deed(served, { study: studyId, by: served.person });
    return marked.ok ? done(await answer(served, queue, study, marked.value)) : marked;
  };
export const undoDeed = taking(undo);
export const redoDeed = taking(redo);

const noStudy = (id: string) =>
  refused({
    why: 'no-such-study',
    message: `There is no study ${id} in this laboratory; read the list anew.`,
  });

export const marksView = ({ records }: Served, studyId: string): Promise<Outcome<readonly MarkJson[]>> =>
  records.look(async (look) => {
    const study = await look.studies.get(asId(studyId));
    if (!study) return noStudy(studyId);
    const newest = await look.marks.newest(study.id, LATEST, null);
    const people = new Map((await look.people.list()).map((person) => [person.id, person.name]));
    const inForce = new Set<MarkId>(marksInForce([...newest].reverse()).map((mark) => mark.id));
    return done(newest.map((mark) => markJson(mark, people.get(mark.by) ?? '', !inForce.has(mark.id))));
  });
