import { type Filter, makePhoto, type Photo, photoName } from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { asId, known } from './known.ts';
import type { Look, PhotoSource, PhotoTakenIn, Tools } from './ports.ts';

export interface PhotoWish {
  readonly filter: string;
  readonly source: PhotoSource;
  /** As the file was called; folders and control characters are dropped. */
  readonly name: string;
  readonly by: string;
  readonly optics?: string | null;
  readonly mostBytes?: number;
}

export interface PhotoImported {
  readonly photo: Photo;
  /** True when this original was on this filter already: nothing was added. */
  readonly known: boolean;
}

/**
 * Brings a photograph in. When it resolves, the original and its record are both on the disk: first the original, then
 * the record, so that a process killed between the two leaves an original that nobody names and no record without one.
 */
export async function importPhoto(
  { records, files, work, clock, names }: Tools,
  wish: PhotoWish,
): Promise<Outcome<PhotoImported>> {
  const name = photoName(wish.name);
  const about = await records.look(async (look) => {
    const filter = await known(look.filters.get(asId(wish.filter)), 'filter', wish.filter);
    if (!filter.ok) return filter;
    const person = await known(look.people.get(asId(wish.by)), 'person', wish.by);
    if (!person.ok) return person;
    if (wish.optics) {
      const optics = await known(look.optics.get(asId(wish.optics)), 'lens setting', wish.optics);
      if (!optics.ok) return optics;
    }
    return filter;
  });
  if (!about.ok) return about;
  const filter = about.value;

  const taken = await files.takeIn(wish.source, wish.mostBytes);
  if (!taken.ok) return refused({ ...taken.refusal, message: `“${name}”: ${taken.refusal.message}` });
  const original = taken.value;
  let kept = false;
  try {
    const there = await records.look((look) => already(look, original, filter, name));
    if (there) return there;
    if (original.bytes === 0) {
      return refused({ why: 'empty', message: `“${name}” is empty; copy it from the camera again.` });
    }
    const facts = await work.inspect(original.path, name);
    if (!facts.ok) return facts;
    const photo = makePhoto({
      id: names.next(),
      filter: filter.id,
      sha256: original.sha256,
      name,
      bytes: original.bytes,
      ...facts.value,
      optics: wish.optics ?? null,
      at: clock.now(),
      by: wish.by,
    });
    if (!photo.ok) return photo;
    kept = true;
    await original.keep();
    return await records.change(async (desk) => {
      // The same file may have come in twice at once.
      const meanwhile = await already(desk, original, filter, name);
      if (meanwhile) return meanwhile;
      await desk.photos.add(photo.value);
      return done({ photo: photo.value, known: false });
    });
  } finally {
    if (!kept) await original.discard();
  }
}

async function already(
  look: Look,
  { sha256 }: PhotoTakenIn,
  filter: Filter,
  name: string,
): Promise<Outcome<PhotoImported> | null> {
  const photo = await look.photos.bySha256(sha256);
  if (!photo) return null;
  if (photo.filter === filter.id) return done({ photo, known: true });
  const other = await look.filters.get(photo.filter);
  return refused({
    why: 'on-another-filter',
    message: `“${name}” is the same picture as “${photo.name}” on filter “${other?.name ?? photo.filter}”; a photograph shows one filter. If it lies there by mistake, move it from that filter’s page.`,
  });
}
