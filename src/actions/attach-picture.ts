import { makeSetupPhoto, photoName, type SetupPhoto } from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { asId, known } from './known.ts';
import type { PhotoSource, Tools } from './ports.ts';

export interface PictureWish {
  readonly run: string;
  readonly step: string | null;
  readonly source: PhotoSource;
  readonly name: string;
  readonly note: string;
  readonly by: string;
  readonly mostBytes?: number;
}

/**
 * Attaches a picture of the set-up to a run. The original is kept once by its hash like every other; the same file on the same
 * run is attached once.
 */
export async function attachPicture(
  { records, files, work, clock, names }: Tools,
  wish: PictureWish,
): Promise<Outcome<SetupPhoto>> {
  const name = photoName(wish.name);
  const run = await records.look((look) => known(look.runs.get(asId(wish.run)), 'run', wish.run));
  if (!run.ok) return run;
  const taken = await files.takeIn(wish.source, wish.mostBytes);
  if (!taken.ok) return refused({ ...taken.refusal, message: `“${name}”: ${taken.refusal.message}` });
  const original = taken.value;
  let kept = false;
  try {
    if (original.bytes === 0) {
      return refused({ why: 'empty', message: `“${name}” is empty; take the picture again.` });
    }
    const facts = await work.inspect(original.path, name);
    if (!facts.ok) return facts;
    const made = makeSetupPhoto({
      id: names.next(),
      run: wish.run,
      stepKey: wish.step,
      sha256: original.sha256,
      name,
      bytes: original.bytes,
      ...facts.value,
      note: wish.note,
      at: clock.now(),
      by: wish.by,
    });
    if (!made.ok) return made;
    kept = true;
    await original.keep();
    return await records.change(async (desk) => {
      const there = (await desk.setupPhotos.ofRun(run.value.id)).find(
        (photo) => photo.sha256 === original.sha256,
      );
      if (there) return done(there);
      await desk.setupPhotos.add(made.value);
      return made;
    });
  } finally {
    if (!kept) await original.discard();
  }
}
