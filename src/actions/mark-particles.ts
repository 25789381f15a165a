import {
  type AsGiven,
  type Decision,
  type FindingRecord,
  type Mark,
  makeMark,
  marksByParticle,
  type ParticleRecord,
  type Photo,
  standingAfter,
} from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { drawPieces } from './draw-pieces.ts';
import { joinPhotographs } from './join-photographs.ts';
import { known } from './known.ts';
import type { Desk, Names, Tools } from './ports.ts';

export interface Marked {
  readonly mark: Mark;
  /** The particles touched, as they stand after it; pieces that it drew among them. */
  readonly particles: readonly ParticleRecord[];
}

type Bench = Pick<Tools, 'records' | 'clock' | 'names'>;

/** Somebody's decision on particles of one photo; durable when it resolves. */
export const markParticles = (
  { records, clock, names }: Bench,
  wish: {
    readonly photo: string;
    readonly particles: readonly string[];
    readonly decision: AsGiven<Decision>;
    readonly by: string;
  },
): Promise<Outcome<Marked>> =>
  records.change(async (desk) => {
    const made = makeMark({ ...wish, id: names.next(), at: clock.now() });
    if (!made.ok) return made;
    const mark = made.value;
    if (mark.decision.kind === 'undo' || mark.decision.kind === 'draw') {
      return refused({
        why: 'apart',
        message: `mark: ${mark.decision.kind} does not touch particles that are there; it has a door of its own.`,
      });
    }
    const person = await known(desk.people.get(mark.by), 'person', mark.by);
    if (!person.ok) return person;
    const newest = await desk.findings.newest(mark.photo);
    const particles = await desk.particles.some(mark.particles);
    const stranger =
      particles.length < mark.particles.length ||
      particles.some((particle) => particle.finding !== newest?.id);
    if (!newest || stranger) {
      return refused({
        why: 'no-such-particle',
        message:
          'mark: not all of these particles are on what was last found on this photo; read the photo anew.',
      });
    }
    if (particles.some((particle) => particle.standing === 'replaced')) {
      return refused({
        why: 'replaced',
        message: 'mark: one of these particles gave way to what was drawn in its place; read the photo anew.',
      });
    }
    const photo = await known(desk.photos.get(mark.photo), 'photo', mark.photo);
    if (!photo.ok) return photo;
    const entered = await enterMark(desk, names, { mark, particles, finding: newest, photo: photo.value });
    if (!entered.ok) return entered;
    const { settled, drawn } = entered.value;
    const now = [...settled, ...drawn];
    return done({
      mark,
      particles: drawn.length === 0 ? now : await joinedAnew(desk, { clock, names }, photo.value, now),
    });
  });

/** Writes a mark whose pieces are known to be there and in force: what it draws, and where everything it touches stands. */
export async function enterMark(
  desk: Desk,
  names: Names,
  given: {
    readonly mark: Mark;
    readonly particles: readonly ParticleRecord[];
    readonly finding: FindingRecord;
    readonly photo: Photo;
  },
): Promise<
  Outcome<{ readonly settled: readonly ParticleRecord[]; readonly drawn: readonly ParticleRecord[] }>
> {
  const { mark, particles, finding, photo } = given;
  const draws = 'outline' in mark.decision || 'outlines' in mark.decision;
  const numbered = draws ? await desk.particles.countOf(finding.id) : 0;
  const drawn = drawPieces(mark, particles, finding, photo, numbered, names);
  if (!drawn.ok) return drawn;
  await desk.marks.add(mark);
  await desk.particles.add(drawn.value);
  return done({ settled: await settle(desk, particles), drawn: drawn.value });
}

/** Takes a mark back by a further one; what it drew gives way to what was there before. */
export async function undoMark(
  desk: Desk,
  { clock, names }: Bench,
  wish: { readonly mark: Mark; readonly by: string },
): Promise<Outcome<Marked>> {
  const { mark } = wish;
  const made = makeMark({
    id: names.next(),
    photo: mark.photo,
    particles: mark.particles,
    decision: { kind: 'undo', undoes: mark.id },
    by: wish.by,
    at: clock.now(),
  });
  if (!made.ok) return made;
  await desk.marks.add(made.value);
  // A redo takes back an undo; the pieces in question are those of the mark at the root.
  let root: Mark | null = mark;
  while (root?.decision.kind === 'undo') root = await desk.marks.get(root.decision.undoes);
  const drawn = root ? await desk.particles.drawnBy(root.id) : [];
  const settled = await settle(desk, [...(await desk.particles.some(mark.particles)), ...drawn]);
  const photo = drawn.length === 0 ? null : await desk.photos.get(mark.photo);
  return done({
    mark: made.value,
    particles: photo ? await joinedAnew(desk, { clock, names }, photo, settled) : settled,
  });
}

/** What was drawn, or gave way, may be on overlapping photographs too: which sighting counts is told anew. */
export async function joinedAnew(
  desk: Desk,
  tools: Pick<Tools, 'clock' | 'names'>,
  photo: Photo,
  particles: readonly ParticleRecord[],
): Promise<readonly ParticleRecord[]> {
  await joinPhotographs(desk, tools, photo.filter);
  return desk.particles.some(particles.map((particle) => particle.id));
}

/** Sums the marks of these particles anew and writes where they stand. */
async function settle(desk: Desk, particles: readonly ParticleRecord[]): Promise<readonly ParticleRecord[]> {
  const drawn = particles.flatMap((particle) => (particle.drawnBy === null ? [] : [particle]));
  const marks = await desk.marks.touching(particles.map((particle) => particle.id));
  // Whether a drawing stands shows in its mark and what was undone.
  const drawings = [...new Set(drawn.flatMap(({ drawnBy }) => drawnBy ?? []))];
  const around = drawn.length === 0 ? marks : await desk.marks.withUndoings(drawn[0]!.photo, drawings);
  const touching = marksByParticle(marks);
  const settled = particles.map((particle) => ({
    ...particle,
    ...standingAfter(particle, touching.get(particle.id) ?? [], around),
  }));
  await desk.particles.settle(settled);
  return settled;
}
