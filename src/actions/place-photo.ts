import { makePhotoPlace, type PhotoPlace } from '../study/index.ts';
import type { Outcome } from '../units/index.ts';
import { asId, known } from './known.ts';
import type { Tools } from './ports.ts';

/** Says which square of the disc a photograph shows; said again, the later word stands. */
export const placePhoto = (
  { records, clock }: Pick<Tools, 'records' | 'clock'>,
  wish: { readonly photo: string; readonly square: readonly [number, number] | null; readonly by: string },
): Promise<Outcome<PhotoPlace>> =>
  records.change(async (desk) => {
    const photo = await known(desk.photos.get(asId(wish.photo)), 'photo', wish.photo);
    if (!photo.ok) return photo;
    const made = makePhotoPlace({ ...wish, at: clock.now() });
    if (made.ok) await desk.photoPlaces.add(made.value);
    return made;
  });
