/** A photograph searched anew: what people decided on its pieces goes over to the same pieces of the new finding. */
import {
  type FindingRecord,
  type Mark,
  marksInForce,
  type ParticleId,
  type ParticleRecord,
  type Photo,
  samePieces,
} from '../study/index.ts';
import { drawnPiece } from './draw-pieces.ts';
import { enterMark } from './mark-particles.ts';
import type { Clock, Desk, Names } from './ports.ts';

export interface Carried {
  readonly marks: number;
  /** Marks whose pieces are not there any more. */
  readonly lost: number;
}

interface Tools {
  readonly clock: Clock;
  readonly names: Names;
}

/**
 * Repeats the marks in force, oldest first, in the name of whoever made them, each naming the one that it carries over.
 * The old finding keeps its own. A piece that was drawn by hand is drawn again, unless the new finding has it.
 */
export async function carryMarks(
  desk: Desk,
  tools: Tools,
  photo: Photo,
  before: FindingRecord,
  finding: FindingRecord,
): Promise<Carried> {
  const old = await desk.particles.ofFinding(before.id);
  const own = new Set<string>(old.map((particle) => particle.id));
  const marks = marksInForce(await desk.marks.ofPhoto(photo.id)).filter(
    ({ decision, particles }) => decision.kind !== 'undo' && particles.some((id) => own.has(id)),
  );
  if (marks.length === 0) return { marks: 0, lost: 0 };
  const found = await desk.particles.ofFinding(finding.id);
  const now = new Map<ParticleId, ParticleId>(
    [...samePieces(old, found)].map(([was, is]) => [was.id, is.id]),
  );
  const told = { marks: 0, lost: 0 };
  for (const mark of marks) {
    const drew = old.filter((particle) => particle.drawnBy === mark.id);
    const pieces = await repeat(desk, tools, { photo, finding, mark, drew, now });
    if (pieces === null) told.lost++;
    else {
      told.marks++;
      // What it drew before is what it drew now, piece by piece.
      drew.forEach((was, at) => {
        const is = pieces[at];
        if (is) now.set(was.id, is.id);
      });
    }
  }
  return told;
}

/** The pieces that the repeated mark drew, in order; null where there was nothing left to repeat it on. */
async function repeat(
  desk: Desk,
  { clock, names }: Tools,
  given: {
    readonly photo: Photo;
    readonly finding: FindingRecord;
    readonly mark: Mark;
    readonly drew: readonly ParticleRecord[];
    readonly now: ReadonlyMap<ParticleId, ParticleId>;
  },
): Promise<readonly ParticleRecord[] | null> {
  const { photo, finding, mark, drew, now } = given;
  const { decision } = mark;
  const base = { photo: photo.id, by: mark.by, at: clock.now(), carries: mark.id };
  if (decision.kind === 'draw') {
    const there = drew[0] && now.get(drew[0].id);
    if (there === undefined) {
      const again: Mark = { ...base, id: names.next(), particles: [names.next()], decision };
      const piece = drawnPiece(again, finding, photo, await desk.particles.countOf(finding.id));
      if (!piece.ok) return null;
      await desk.marks.add(again);
      await desk.particles.add([piece.value]);
      return [piece.value];
    }
    const kept: Mark = { ...base, id: names.next(), particles: [there], decision: { kind: 'keep' } };
    return entered(desk, names, kept, finding, photo);
  }
  const particles = mark.particles.flatMap((id) => now.get(id) ?? []);
  const outlines = ['split', 'merge', 'redraw'].includes(decision.kind);
  if (particles.length === 0 || (outlines && particles.length < mark.particles.length)) return null;
  return entered(desk, names, { ...base, id: names.next(), particles, decision }, finding, photo);
}

async function entered(
  desk: Desk,
  names: Names,
  mark: Mark,
  finding: FindingRecord,
  photo: Photo,
): Promise<readonly ParticleRecord[] | null> {
  const particles = await desk.particles.some(mark.particles);
  if (particles.some((particle) => particle.standing === 'replaced')) return null;
  const done = await enterMark(desk, names, { mark, particles, finding, photo });
  return done.ok ? done.value.drawn : null;
}
