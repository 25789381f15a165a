/** Studies out to open formats and in, over HTTP. */
import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { Readable } from 'node:stream';
import type { Context } from 'hono';
import type { ARCHIVE_ROUTES } from '../api/index.ts';
import { refused } from '../units/index.ts';
import { type Answering, answered, part, valid } from './answers.ts';
import { chunks } from './photo-bytes.ts';
import type { Served } from './served.ts';

const notLent = refused({
  why: 'no-archives-here',
  message: 'This server does not pack studies: use “retentate pack” and “retentate unpack” on its machine.',
});

export const archiveAnswers = (served: Served): Readonly<Record<keyof typeof ARCHIVE_ROUTES, Answering>> => ({
  packStudy: async (c) => {
    if (!served.archives) return answered(c, notLent);
    const packed = await served.archives.pack(part(c, 'study'));
    if (!packed.ok) return answered(c, packed);
    const { path, name, discard } = packed.value;
    const { size } = await stat(path);
    const stream = createReadStream(path);
    stream.once('close', () => void discard());
    return c.body(Readable.toWeb(stream) as ReadableStream<Uint8Array>, 200, {
      'content-type': 'application/zip',
      'content-length': String(size),
      'content-disposition': `attachment; filename*=UTF-8''${encodeURIComponent(name)}`,
    });
  },
  unpackStudy: async (c) => bringIn(served, c),
});

async function bringIn(served: Served, c: Context): Promise<Response> {
  if (!served.archives) return answered(c, notLent);
  const body = c.req.raw.body;
  const as = valid<{ as?: string }>(c, 'query').as;
  const brought = await served.archives.unpack(body ? chunks(body) : none(), as);
  return answered(c, brought, ({ id, study, rows, originals, sameClaim }) => ({
    id,
    study,
    rows,
    originals,
    same_claim: sameClaim,
  }));
}

async function* none(): AsyncGenerator<Uint8Array> {}
