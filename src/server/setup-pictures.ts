/** Pictures of the set-up: in, small, and to the byte. */
import type { Context } from 'hono';
import { attachPicture } from '../actions/index.ts';
import type { SetupPhotoJson } from '../api/index.ts';
import type { Id } from '../study/index.ts';
import { done, type Outcome } from '../units/index.ts';
import { answered, part, valid } from './answers.ts';
import { setupPhotoJson } from './bench-views.ts';
import { fileAnswer } from './file-answer.ts';
import { chunks } from './photo-bytes.ts';
import { noSuch } from './run-deeds.ts';
import type { Served } from './served.ts';

/** A telephone's largest picture fits many times over. */
const MOST_BYTES = 2 ** 28;

export async function addSetupPhoto(served: Served, c: Context): Promise<Outcome<SetupPhotoJson>> {
  const { name, step, note } = valid<{ name: string; step?: string; note?: string }>(c, 'query');
  const body = c.req.raw.body;
  const made = await attachPicture(served, {
    run: part(c, 'run'),
    step: step ?? null,
    name,
    note: note ?? '',
    by: served.person,
    mostBytes: MOST_BYTES,
    source: body ? { stream: chunks(body) } : { bytes: new Uint8Array() },
  });
  return made.ok ? done(setupPhotoJson(made.value)) : made;
}

const pictureHere = ({ records }: Served, id: string) =>
  records.look((look) => look.setupPhotos.get(id as Id<'setup-photo'>));

export async function setupPicture(served: Served, c: Context): Promise<Response> {
  const photo = await pictureHere(served, part(c, 'picture'));
  if (!photo) return answered(c, noSuch('picture', part(c, 'picture')));
  const made = await served.tiles.tile(photo.sha256, { level: 0, column: 0, row: 0 }, (use) =>
    served.files.withFile(photo.sha256, use),
  );
  if (!made.ok) return answered(c, made);
  return c.body(made.value as Uint8Array<ArrayBuffer>, 200, {
    'content-type': 'image/jpeg',
    'cache-control': 'private, max-age=31536000, immutable',
  });
}

export async function setupOriginal(served: Served, c: Context): Promise<Response> {
  const photo = await pictureHere(served, part(c, 'picture'));
  if (!photo) return answered(c, noSuch('picture', part(c, 'picture')));
  return served.files.withFile(photo.sha256, (path) =>
    fileAnswer(c, path, {
      'content-type': 'application/octet-stream',
      'content-disposition': 'attachment',
    }),
  );
}
