/** Where a particle stands after the marks on it. Marks are only added; this is their sum. */
import type { ParticleId, ParticleRecord } from './records/found.ts';
import type { PersonId } from './records/laboratory.ts';
import type { Mark, MarkId } from './records/mark.ts';
import type { Instant } from './records/rules.ts';

export type Standing = Pick<ParticleRecord, 'standing' | 'shapeNow' | 'colourNow'>;

/** The marks that count: those that no counting mark undoes. An undoing can itself be undone. Order: oldest first. */
export function marksInForce(marks: readonly Mark[]): readonly Mark[] {
  const undone = new Set<MarkId>();
  const inForce: Mark[] = [];
  // From the newest back: whatever undoes a mark is newer than it.
  for (const mark of [...marks].reverse()) {
    if (undone.has(mark.id)) continue;
    if (mark.decision.kind === 'undo') undone.add(mark.decision.undoes);
    inForce.push(mark);
  }
  return inForce.reverse();
}

/**
 * Keep and drop, class and colour: the last in force holds. A split, merge or redraw in force replaces the particle by
 * what it drew; a drawn particle whose mark was undone is itself replaced (it gave way to what was there before).
 * `marks` are those that touch the particle, oldest first; `around` holds the mark that drew it, and its undoing.
 */
export function standingAfter(
  particle: Pick<ParticleRecord, 'id' | 'shape' | 'colour' | 'drawnBy'>,
  marks: readonly Mark[],
  around: readonly Mark[] = [],
): Standing {
  let { shape: shapeNow, colour: colourNow } = particle;
  let standing: Standing['standing'] = particle.drawnBy === null ? 'unmarked' : 'kept';
  let replaced = false;
  for (const mark of marksInForce(marks)) {
    const { decision } = mark;
    if (decision.kind === 'keep') standing = 'kept';
    else if (decision.kind === 'drop') standing = 'dropped';
    else if (decision.kind === 'class') shapeNow = decision.shape;
    else if (decision.kind === 'colour') colourNow = decision.colour;
    else if (decision.kind !== 'undo' && decision.kind !== 'draw') replaced = true;
  }
  if (particle.drawnBy !== null) {
    const drawing = marksInForce(around).some((mark) => mark.id === particle.drawnBy);
    replaced ||= !drawing;
  }
  return { standing: replaced ? 'replaced' : standing, shapeNow, colourNow };
}

/** Marks by every particle that they touch, so that a whole photograph is summed in one pass. */
export function marksByParticle(marks: readonly Mark[]): ReadonlyMap<ParticleId, readonly Mark[]> {
  const touching = new Map<ParticleId, Mark[]>();
  for (const mark of marks) {
    for (const particle of mark.particles) {
      const there = touching.get(particle);
      if (there) there.push(mark);
      else touching.set(particle, [mark]);
    }
  }
  return touching;
}

/** What somebody last called a particle. */
export interface Opinion {
  readonly by: PersonId;
  readonly kept: boolean;
  readonly at: Instant;
}

/**
 * Particles that people call differently, with the last keep or drop in force of each of them, oldest first. All marks stay;
 * the last stands. `marks`: all that touch the particles, oldest first.
 */
export function disagreements(marks: readonly Mark[]): ReadonlyMap<ParticleId, readonly Opinion[]> {
  const calls = new Map<ParticleId, Map<PersonId, Opinion>>();
  for (const { decision, particles, by, at } of marksInForce(marks)) {
    if (decision.kind !== 'keep' && decision.kind !== 'drop') continue;
    for (const particle of particles) {
      const own = calls.get(particle) ?? new Map<PersonId, Opinion>();
      // anew, so that the order is that of the last call of each
      own.delete(by);
      own.set(by, { by, kept: decision.kind === 'keep', at });
      calls.set(particle, own);
    }
  }
  const differing = [...calls].filter(
    ([, own]) => new Set([...own.values()].map(({ kept }) => kept)).size > 1,
  );
  return new Map(differing.map(([particle, own]) => [particle, [...own.values()]]));
}

/** The mark that an undo takes back: the newest in force that is no undo. Give marks newest first. */
export function toUndo(newestFirst: readonly Mark[]): Mark | null {
  const inForce = [...marksInForce([...newestFirst].reverse())].reverse();
  const mark = inForce.find(({ decision }) => decision.kind !== 'undo');
  return mark ? lastLink(mark, newestFirst) : null;
}

/**
 * A mark is undone once. One that was undone and put back is taken back by undoing what put it back, and so on along
 * the chain; this is its last link.
 */
function lastLink(mark: Mark, marks: readonly Mark[]): Mark {
  const undoneBy = (one: Mark) =>
    marks.find(({ decision }) => decision.kind === 'undo' && decision.undoes === one.id);
  const undoing = undoneBy(mark);
  const puttingBack = undoing && undoneBy(undoing);
  return puttingBack ? lastLink(puttingBack, marks) : mark;
}

/**
 * The undo that a redo takes back: the newest undo in force of a plain mark, unless a new decision came after it.
 * Give marks newest first.
 */
export function toRedo(newestFirst: readonly Mark[]): Mark | null {
  const byId = new Map(newestFirst.map((mark) => [mark.id, mark]));
  for (const mark of [...marksInForce([...newestFirst].reverse())].reverse()) {
    // A new decision closes the way back to what was undone before it.
    if (mark.decision.kind !== 'undo') return null;
    // An undo of an undo is a redo already made; further ones may follow it.
    if (byId.get(mark.decision.undoes)?.decision.kind !== 'undo') return lastLink(mark, newestFirst);
  }
  return null;
}
