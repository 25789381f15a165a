/** Originals in an S3 bucket, by the hash of their content. A name is its content, so writing one twice changes nothing. */
import { createHash, randomUUID } from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { AwsClient } from 'aws4fetch';
import type { FileState, PhotoFiles } from '../../actions/index.ts';
import { isSha256, type Sha256 } from '../../study/index.ts';
import { done } from '../../units/index.ts';
import { takenInto } from '../taking-in.ts';

export interface Bucket {
  readonly endpoint: string;
  readonly region: string;
  readonly keyId: string;
  readonly secret: string;
  readonly bucket: string;
  readonly prefix: string;
}

/** How often a request is tried again when the bucket does not answer or is busy. */
const RETRIES = 4;

export function originalsInBucket(at: Bucket): PhotoFiles {
  const client = new AwsClient({
    accessKeyId: at.keyId,
    secretAccessKey: at.secret,
    region: at.region,
    service: 's3',
    retries: RETRIES,
  });
  const root = `${at.endpoint.replace(/\/+$/, '')}/${at.bucket}`;
  const keyOf = (sha256: Sha256) =>
    `${at.prefix ? `${at.prefix}/` : ''}${sha256.slice(0, 2)}/${sha256.slice(2)}`;
  const addressOf = (sha256: Sha256) => `${root}/${keyOf(sha256)}`;
  const incoming = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-incoming-'));
  process.once('exit', () => fs.rmSync(incoming, { recursive: true, force: true }));

  const failed = async (what: string, answer: Response): Promise<never> => {
    throw new Error(
      `the bucket ${at.bucket} answered ${answer.status} to ${what}: ${(await answer.text()).slice(0, 300)}`,
    );
  };
  const there = async (sha256: Sha256): Promise<boolean> => {
    const answer = await client.fetch(addressOf(sha256), { method: 'HEAD' });
    if (answer.status === 404) return false;
    return answer.ok || failed('a look', answer);
  };
  const put = async (sha256: Sha256, file: string): Promise<void> => {
    const { size } = await fs.promises.stat(file);
    const answer = await client.fetch(addressOf(sha256), {
      method: 'PUT',
      body: Readable.toWeb(fs.createReadStream(file)) as ReadableStream,
      headers: { 'content-length': String(size), 'x-amz-content-sha256': sha256 },
      duplex: 'half',
      aws: { signQuery: false },
    } as RequestInit & { duplex: 'half' });
    if (!answer.ok) await failed('a photo', answer);
  };
  const fetchTo = async (sha256: Sha256, file: string): Promise<'sound' | 'missing' | 'changed'> => {
    const answer = await client.fetch(addressOf(sha256));
    if (answer.status === 404) return 'missing';
    if (!answer.ok || answer.body === null) return failed('a request', answer);
    const hash = createHash('sha256');
    const from = Readable.fromWeb(answer.body as import('node:stream/web').ReadableStream);
    from.on('data', (part: Uint8Array) => hash.update(part));
    await pipeline(from, fs.createWriteStream(file));
    return hash.digest('hex') === sha256 ? 'sound' : 'changed';
  };

  return {
    takeIn: async (source, mostBytes = Number.POSITIVE_INFINITY) => {
      const taken = await takenInto(path.join(incoming, randomUUID()), source, mostBytes);
      if (!taken.ok) return taken;
      const { sha256, bytes, path: file } = taken.value;
      const discard = () => fs.promises.rm(file, { force: true });
      const known = await there(sha256);
      return done({
        sha256,
        bytes,
        path: file,
        known,
        discard,
        keep: async () => {
          if (!known) await put(sha256, file);
          await discard();
        },
      });
    },
    withFile: async (sha256, use) => {
      const file = path.join(incoming, randomUUID());
      try {
        const state = await fetchTo(sha256, file);
        if (state !== 'sound')
          throw new Error(`the original ${sha256} is ${state} in the bucket ${at.bucket}`);
        return await use(file);
      } finally {
        await fs.promises.rm(file, { force: true });
      }
    },
    verify: async (sha256): Promise<FileState> => {
      const file = path.join(incoming, randomUUID());
      try {
        return await fetchTo(sha256, file);
      } finally {
        await fs.promises.rm(file, { force: true });
      }
    },
    list: async () => {
      const found: Sha256[] = [];
      let after = '';
      for (;;) {
        const query = new URLSearchParams({ 'list-type': '2', prefix: at.prefix ? `${at.prefix}/` : '' });
        if (after) query.set('start-after', after);
        const answer = await client.fetch(`${root}?${query}`);
        if (!answer.ok) return failed('a list', answer);
        const keys = [...(await answer.text()).matchAll(/<Key>([^<]+)<\/Key>/g)].map((m) => m[1]!);
        for (const key of keys) {
          const whole = key.slice(at.prefix ? at.prefix.length + 1 : 0).replace('/', '');
          if (isSha256(whole)) found.push(whole);
        }
        if (keys.length === 0) return found.sort();
        after = keys.at(-1)!;
      }
    },
  };
}
