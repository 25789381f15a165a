/** How small a piece a study's own controls still show: known pieces drawn into their photographs, searched for, kept on record. */
import type { FindWish } from '../science/imaging/finding.ts';
import { BACKGROUND_KINDS, type MeasuredCompleteness, type Photo, wishKey } from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { wishOf } from './find-on-photo.ts';
import { asId, known } from './known.ts';
import type { Look, Tools } from './ports.ts';

/** So many control photographs are drawn into: each counts a piece of every kind. Project choice. */
const PHOTOS = 4;
/** Larger ones are searched strip by strip and not held whole. */
const MOST_PIXELS = 32e6;

interface Chosen {
  readonly photos: readonly Photo[];
  readonly wish: FindWish;
}

/**
 * Photographs of controls, the emptiest first, at most one more of a filter than of another; all of them searched in the
 * same way, the way most of them are.
 */
async function controlsOf(look: Look, study: string): Promise<Outcome<Chosen>> {
  const there = await known(look.studies.get(asId(study)), 'study', study);
  if (!there.ok) return there;
  const controls = new Set(
    (await look.runs.ofStudy(there.value.id))
      .filter((run) => (BACKGROUND_KINDS as readonly string[]).includes(run.kind))
      .map((run) => run.id),
  );
  const filters = new Map(
    (await look.filters.ofStudy(there.value.id))
      .filter((filter) => controls.has(filter.run))
      .map((filter) => [filter.id, filter]),
  );
  const ways = new Map<string, { wish: FindWish; lines: (Photo & { particles: number })[] }>();
  for (const line of await look.photos.linesOfStudy(there.value.id)) {
    const filter = filters.get(line.filter);
    if (!filter || line.finding === null || line.refusal !== null) continue;
    if (line.widthPx * line.heightPx > MOST_PIXELS) continue;
    const wish = await wishOf(look, line);
    if (wish.scale.from === 'nothing') continue;
    const way = ways.get(wishKey(wish)) ?? { wish, lines: [] };
    way.lines.push(line);
    ways.set(wishKey(wish), way);
  }
  const way = [...ways.values()].sort((a, b) => b.lines.length - a.lines.length)[0];
  if (!way) {
    return refused({
      why: 'no-control-photograph',
      message:
        'Known pieces are drawn into photographs of controls, and none was searched with a scale yet: bring in a photograph of a control’s filter.',
    });
  }
  const taken = new Map<string, number>();
  const inTurn = way.lines
    .sort((a, b) => a.particles - b.particles)
    .map((line) => {
      const turn = taken.get(line.filter) ?? 0;
      taken.set(line.filter, turn + 1);
      return { line, turn };
    })
    .sort((a, b) => a.turn - b.turn);
  return done({ photos: inTurn.slice(0, PHOTOS).map(({ line }) => line), wish: way.wish });
}

/** Minutes of work on large photographs: tells how far it is, and can be stopped; then nothing is kept. */
export async function measureCompleteness(
  { records, files, work, clock, names }: Tools,
  wish: {
    readonly study: string;
    readonly by: string;
    readonly told: (done: number, of: number) => void;
    /** Ends the work when it resolves. */
    readonly stopped?: Promise<unknown>;
  },
): Promise<Outcome<MeasuredCompleteness>> {
  const chosen = await records.look((look) => controlsOf(look, wish.study));
  if (!chosen.ok) return chosen;
  const { photos } = chosen.value;
  const withAll = (
    left: readonly Photo[],
    open: readonly { path: string; name: string }[],
  ): ReturnType<typeof work.completeness> => {
    const [next, ...rest] = left;
    return next
      ? files.withFile(next.sha256, (path) => withAll(rest, [...open, { path, name: next.name }]))
      : work.completeness(open, chosen.value.wish, wish.told, wish.stopped);
  };
  const measured = await withAll(photos, []);
  if (!measured.ok) return measured;
  return records.change(async (desk) => {
    const person = await known(desk.people.get(asId(wish.by)), 'person', wish.by);
    if (!person.ok) return person;
    const record: MeasuredCompleteness = {
      id: names.next(),
      study: asId(wish.study),
      photos: photos.map((photo) => photo.id),
      result: measured.value,
      by: person.value.id,
      at: clock.now(),
    };
    await desk.completeness.add(record);
    return done(record);
  });
}
