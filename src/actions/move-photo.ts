import { makePhotoMove, type PhotoMove } from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { joinPhotographs } from './join-photographs.ts';
import { asId, known, studyOfFilter, studyOfPhoto } from './known.ts';
import { namedPieces } from './named-pieces.ts';
import type { Tools } from './ports.ts';

export interface MoveWish {
  readonly photo: string;
  /** Null: set aside; it is kept, and counts as not looked at. */
  readonly filter: string | null;
  readonly why: string;
  readonly by: string;
}

/**
 * Lays a photograph on another filter of its study, or sets it aside; said again, the later word stands. Refused where a
 * test, a drawn part, a round or a spectrum rests on one of its pieces.
 */
export const movePhoto = (
  { records, clock, names }: Pick<Tools, 'records' | 'clock' | 'names'>,
  wish: MoveWish,
): Promise<Outcome<PhotoMove>> =>
  records.change(async (desk) => {
    const photo = await known(desk.photos.get(asId(wish.photo)), 'photo', wish.photo);
    if (!photo.ok) return photo;
    const { id, name, filter: lies } = photo.value;
    const study = await studyOfPhoto(desk, photo.value);
    if (!study) throw new Error(`photo ${id} lies in no study`);
    if (wish.filter !== null) {
      const filter = await known(desk.filters.get(asId(wish.filter)), 'filter', wish.filter);
      if (!filter.ok) return filter;
      if ((await studyOfFilter(desk, filter.value))?.id !== study.id) {
        return refused({
          why: 'other-study',
          message: `“${name}” belongs to study “${study.name}”; choose a filter of that study.`,
        });
      }
    }
    const finding = await desk.findings.newest(id);
    const named = await namedPieces(desk, study);
    const used = (await desk.particles.some([...named])).filter((particle) => particle.photo === id);
    if (used.length > 0) {
      return refused({
        why: 'still-used',
        message: `“${name}” stays: ${used.length === 1 ? 'one of its pieces was' : `${used.length} of its pieces were`} tested, drawn for testing or shown in a round. Take those answers back first, or say on the filter what went wrong.`,
      });
    }
    const made = makePhotoMove({ ...wish, id: names.next(), at: clock.now() });
    if (!made.ok) return made;
    await desk.photoMoves.add(made.value);
    // What counted on a neighbour, here or there, is told anew.
    if (finding) await desk.particles.countOn([finding.id], []);
    await joinPhotographs(desk, { clock, names }, lies);
    if (made.value.filter !== null && made.value.filter !== lies) {
      await joinPhotographs(desk, { clock, names }, made.value.filter);
    }
    return done(made.value);
  });
