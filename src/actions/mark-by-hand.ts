import {
  type Colour,
  cutOutline,
  mergeOutlines,
  type Point,
  type Shape,
  splitOutline,
} from '../science/imaging/index.ts';
import { type AsGiven, type Decision, makeMark, type ParticleRecord, type Photo } from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { drawnPiece } from './draw-pieces.ts';
import { asId, known } from './known.ts';
import { joinedAnew, type Marked, markParticles } from './mark-particles.ts';
import type { Tools } from './ports.ts';

/** What a hand does to outlines. `cut` null: at the necks, as the program itself would. */
export type ByHand =
  | { readonly deed: 'split'; readonly particle: string; readonly cut: readonly [Point, Point] | null }
  | { readonly deed: 'merge'; readonly particles: readonly string[] }
  | { readonly deed: 'redraw'; readonly particle: string; readonly outline: readonly Point[] }
  | {
      readonly deed: 'draw';
      readonly outline: readonly Point[];
      readonly shape: Shape;
      readonly colour: Colour;
    };

interface Wish {
  readonly photo: string;
  readonly by: string;
  readonly hand: ByHand;
}

/** Pieces apart by more than this many pixels are not one piece. */
const REACH_PX = 24;

/**
 * Splits, joins, redraws and draws pieces on a photo by the same code that parts and joins them when the program finds
 * them; a mark like any other, to be undone like any other. Refuses a cut that misses, pieces too far apart and a photo
 * that was not searched.
 */
export async function markByHand(tools: Tools, { photo, by, hand }: Wish): Promise<Outcome<Marked>> {
  if (hand.deed === 'draw') return drawPiece(tools, { photo, by, hand });
  const ids = hand.deed === 'merge' ? hand.particles : [hand.particle];
  const found = await tools.records.look((look) => look.particles.some(ids.map((one) => asId(one))));
  if (found.length < new Set(ids).size) {
    return refused({
      why: 'no-such-particle',
      message:
        'mark: not all of these particles are on what was last found on this photo; read the photo anew.',
    });
  }
  const decision = decisionFrom(hand, found);
  return decision.ok
    ? markParticles(tools, { photo, particles: ids, decision: decision.value, by })
    : decision;
}

function decisionFrom(
  hand: Exclude<ByHand, { deed: 'draw' }>,
  found: readonly ParticleRecord[],
): Outcome<AsGiven<Decision>> {
  if (hand.deed === 'redraw') return done({ kind: 'redraw', outline: hand.outline });
  if (hand.deed === 'split') {
    const { outlinePx, number } = found[0]!;
    const outlines = hand.cut === null ? splitOutline(outlinePx) : cutOutline(outlinePx, ...hand.cut);
    if (outlines.length >= 2) return done({ kind: 'split', outlines });
    return refused({
      why: 'not-split',
      message:
        hand.cut === null
          ? `piece ${number} has no neck to part it at; cut it by a line instead.`
          : `The line does not cross piece ${number}; draw it from one side of the piece to the other.`,
    });
  }
  try {
    const outline = mergeOutlines(
      found.map((particle) => particle.outlinePx),
      REACH_PX,
    );
    return done({ kind: 'merge', outline });
  } catch (problem) {
    if (!(problem instanceof RangeError)) throw problem;
    return refused({
      why: 'too-far-apart',
      message: `These pieces lie more than ${2 * REACH_PX} px apart; join those that touch or nearly touch.`,
    });
  }
}

/** A piece that the program did not find. Its colour is read from the photo before the mark is made. */
async function drawPiece(
  { records, files, work, clock, names }: Tools,
  { photo: id, by, hand }: Wish & { readonly hand: Extract<ByHand, { deed: 'draw' }> },
): Promise<Outcome<Marked>> {
  const photo = await records.look((look) => known<Photo>(look.photos.get(asId(id)), 'photo', id));
  if (!photo.ok) return photo;
  const { sha256, name } = photo.value;
  const lab = await files.withFile(sha256, (path) => work.colourInside(path, name, hand.outline));
  if (!lab.ok) return lab;
  return records.change(async (desk) => {
    const person = await known(desk.people.get(asId(by)), 'person', by);
    if (!person.ok) return person;
    const finding = await desk.findings.newest(photo.value.id);
    if (!finding) {
      return refused({
        why: 'not-searched',
        message: `“${name}” was not searched yet; draw on it when its particles are there.`,
      });
    }
    const { outline, shape, colour } = hand;
    const made = makeMark({
      id: names.next(),
      photo: id,
      particles: [names.next()],
      decision: { kind: 'draw', outline, shape, colour, lab: lab.value },
      by,
      at: clock.now(),
    });
    if (!made.ok) return made;
    const piece = drawnPiece(made.value, finding, photo.value, await desk.particles.countOf(finding.id));
    if (!piece.ok) return piece;
    await desk.marks.add(made.value);
    await desk.particles.add([piece.value]);
    return done({
      mark: made.value,
      particles: await joinedAnew(desk, { clock, names }, photo.value, [piece.value]),
    });
  });
}
