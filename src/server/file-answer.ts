import { open } from 'node:fs/promises';
import { Readable } from 'node:stream';
import type { Context } from 'hono';

/** To be saved under its own name, never shown by the browser, whatever it holds (RFC 6266, RFC 5987). */
export const savedAs = (name: string): string =>
  `attachment; filename*=UTF-8''${encodeURIComponent(name).replace(/['()*]/g, (s) => `%${s.charCodeAt(0).toString(16)}`)}`;

/**
 * A file as it is, streamed. It is open before this resolves: a copy that was fetched from a bucket may be taken away
 * as soon as its user is done with the path.
 */
export async function fileAnswer(
  c: Context,
  path: string,
  headers: Readonly<Record<string, string>>,
  ended: () => void = () => {},
): Promise<Response> {
  const file = await open(path);
  const { size } = await file.stat();
  const stream = file.createReadStream();
  stream.once('close', ended);
  return c.body(Readable.toWeb(stream) as ReadableStream<Uint8Array>, 200, {
    ...headers,
    'content-length': String(size),
  });
}
