/** Bytes of photographs: in, out, and as tiles. */
import type { Context } from 'hono';
import { importPhoto } from '../actions/index.ts';
import type { PhotoAdded } from '../api/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { fileAnswer, savedAs } from './file-answer.ts';
import type { PhotoQueue } from './photo-queue.ts';
import { photoAtHome, photoView } from './photo-views.ts';
import { statusOf } from './refusal-status.ts';
import type { Served } from './served.ts';

/** Largest file taken in over HTTP. */
const MOST_BYTES = 8 * 2 ** 30;

/** Brings one photo in as a stream; it is searched in the background. */
export async function addPhoto(
  served: Served,
  queue: PhotoQueue,
  filter: string,
  name: string,
  c: Context,
): Promise<Outcome<PhotoAdded>> {
  const announced = Number(c.req.header('content-length') ?? 0);
  if (announced > MOST_BYTES) {
    return refused({
      why: 'too-many-bytes',
      message: `The file is larger than ${MOST_BYTES / 2 ** 30} GiB: save the photograph in parts.`,
    });
  }
  const body = c.req.raw.body;
  const imported = await importPhoto(served, {
    filter,
    name,
    by: served.person,
    mostBytes: MOST_BYTES,
    source: body ? { stream: chunks(body) } : { bytes: new Uint8Array() },
  });
  if (!imported.ok) return imported;
  const { photo, known } = imported.value;
  if (!known) queue.add(photo);
  const view = await photoView(served, queue, photo.id);
  return view.ok ? done({ photo: view.value, known }) : view;
}

export async function* chunks(body: ReadableStream<Uint8Array>): AsyncGenerator<Uint8Array> {
  const reader = body.getReader();
  try {
    for (let part = await reader.read(); !part.done; part = await reader.read()) yield part.value;
  } finally {
    reader.releaseLock();
  }
}

const refusal = (c: Context, given: { readonly why: string; readonly message: string }): Response =>
  c.json({ refusal: { why: given.why, message: given.message } }, statusOf(given.why));

export async function tile(served: Served, c: Context): Promise<Response> {
  const home = await served.records.look((look) => photoAtHome(look, c.req.param('photo') ?? ''));
  if (!home.ok) return refusal(c, home.refusal);
  const { sha256 } = home.value.photo;
  const at = {
    level: Number(c.req.param('level')),
    column: Number(c.req.param('column')),
    row: Number(c.req.param('row')),
  };
  const made = await served.tiles.tile(sha256, at, (use) => served.files.withFile(sha256, use));
  if (!made.ok) return refusal(c, made.refusal);
  // A photo never changes, so neither do its tiles.
  return c.body(made.value as Uint8Array<ArrayBuffer>, 200, {
    'content-type': 'image/jpeg',
    'cache-control': 'private, max-age=31536000, immutable',
  });
}

export async function original(served: Served, c: Context): Promise<Response> {
  const home = await served.records.look((look) => photoAtHome(look, c.req.param('photo') ?? ''));
  if (!home.ok) return refusal(c, home.refusal);
  const { sha256, name } = home.value.photo;
  return served.files.withFile(sha256, (path) =>
    fileAnswer(c, path, {
      'content-type': 'application/octet-stream',
      'content-disposition': savedAs(name),
    }),
  );
}
