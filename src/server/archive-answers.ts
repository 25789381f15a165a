/** Studies out to open formats and in, over HTTP. */
import type { Context } from 'hono';
import type { ARCHIVE_ROUTES } from '../api/index.ts';
import { refused } from '../units/index.ts';
import { type Answering, answered, part, valid } from './answers.ts';
import { fileAnswer, savedAs } from './file-answer.ts';
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
    const headers = { 'content-type': 'application/zip', 'content-disposition': savedAs(name) };
    return fileAnswer(c, path, headers, () => void discard());
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
