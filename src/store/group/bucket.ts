/** Originals in an S3 bucket, by the hash of their content. A name is its content, so writing one twice changes nothing. */
import { createHash, randomUUID } from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { AwsClient } from 'aws4fetch';
import { type FileState, NO_BUCKET, type PhotoFiles, UnsoundOriginal } from '../../actions/index.ts';
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

/** How often a request is tried when the bucket does not answer or is busy, and how long it is waited for first. */
const TRIES = 5;
const WAIT_MS = 100;

/** A bucket that cannot be used now; the message is a part of a sentence for people. */
class NoBucket extends Error {
  readonly code = NO_BUCKET;
}

type Made = RequestInit & { readonly duplex?: 'half' };
type Ask = (url: string, make?: () => Made) => Promise<Response>;

/** Requests to one bucket; a body is made anew for each try, for a stream is read once. */
function asking(at: Bucket): Ask {
  const client = new AwsClient({
    accessKeyId: at.keyId,
    secretAccessKey: at.secret,
    region: at.region,
    service: 's3',
    retries: 0,
  });
  const once = async (url: string, make: () => Made): Promise<Response | NoBucket> => {
    try {
      const answer = await client.fetch(url, make());
      if (answer.status < 500 && answer.status !== 429) return answer;
      await answer.body?.cancel();
      return new NoBucket(`The bucket ${at.bucket} is in trouble (it answers ${answer.status})`);
    } catch (cause) {
      return new NoBucket(`The bucket ${at.bucket} does not answer at ${new URL(at.endpoint).host}`, {
        cause,
      });
    }
  };
  return async (url, make = () => ({})) => {
    for (let tried = 1; ; tried++) {
      const answer = await once(url, make);
      if (answer instanceof Response) return answer;
      if (tried === TRIES) throw answer;
      await new Promise((resume) => setTimeout(resume, WAIT_MS * 2 ** tried));
    }
  };
}

/** What a refusing answer of the bucket means; its XML stays inside. */
async function refusing(at: Bucket, answer: Response): Promise<never> {
  const code = /<Code>(\w+)<\/Code>/.exec(await answer.text().catch(() => ''))?.[1] ?? String(answer.status);
  if (answer.status === 401 || answer.status === 403) {
    throw new NoBucket(
      `The bucket ${at.bucket} refuses these keys (${code}): correct S3_KEY_ID and S3_SECRET`,
    );
  }
  if (answer.status === 404) throw new NoBucket(`There is no bucket ${at.bucket} (${code}): make it once`);
  throw new NoBucket(`The bucket ${at.bucket} refuses (${code})`);
}

const rootOf = (at: Bucket): string => `${at.endpoint.replace(/\/+$/, '')}/${at.bucket}`;

/** Throws, in a part of a sentence, when the bucket is not there or refuses the keys. */
export async function reachBucket(at: Bucket): Promise<void> {
  const answer = await asking(at)(`${rootOf(at)}?list-type=2`);
  if (!answer.ok) await refusing(at, answer);
  await answer.body?.cancel();
}

export function originalsInBucket(at: Bucket): PhotoFiles {
  const ask = asking(at);
  const root = rootOf(at);
  const keyOf = (sha256: Sha256) =>
    `${at.prefix ? `${at.prefix}/` : ''}${sha256.slice(0, 2)}/${sha256.slice(2)}`;
  const addressOf = (sha256: Sha256) => `${root}/${keyOf(sha256)}`;
  const incoming = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-incoming-'));
  process.once('exit', () => fs.rmSync(incoming, { recursive: true, force: true }));

  /** Whole: some stores keep the half of an upload that broke off, under the name of the whole. */
  const there = async (sha256: Sha256, bytes: number): Promise<boolean> => {
    const answer = await ask(addressOf(sha256), () => ({ method: 'HEAD' }));
    if (answer.status === 404) return false;
    if (!answer.ok) return refusing(at, answer);
    return Number(answer.headers.get('content-length')) === bytes;
  };
  const put = async (sha256: Sha256, file: string): Promise<void> => {
    const { size } = await fs.promises.stat(file);
    const answer = await ask(addressOf(sha256), () => ({
      method: 'PUT',
      body: Readable.toWeb(fs.createReadStream(file)) as ReadableStream,
      headers: { 'content-length': String(size), 'x-amz-content-sha256': sha256 },
      duplex: 'half',
    }));
    if (!answer.ok) await refusing(at, answer);
    await answer.body?.cancel();
  };
  const fetchOnce = async (sha256: Sha256, file: string): Promise<FileState> => {
    const answer = await ask(addressOf(sha256));
    if (answer.status === 404) return 'missing';
    if (!answer.ok || answer.body === null) return refusing(at, answer);
    const hash = createHash('sha256');
    const from = Readable.fromWeb(answer.body as import('node:stream/web').ReadableStream);
    from.on('data', (part: Uint8Array) => hash.update(part));
    await pipeline(from, fs.createWriteStream(file));
    return hash.digest('hex') === sha256 ? 'sound' : 'changed';
  };
  /** A download that breaks off is begun anew; what the disk here refuses is not the bucket's. */
  const fetchTo = async (sha256: Sha256, file: string): Promise<FileState> => {
    for (let tried = 1; ; tried++) {
      try {
        return await fetchOnce(sha256, file);
      } catch (failure) {
        const { code } = failure as { code?: string };
        if (code === NO_BUCKET || code === 'ENOSPC' || code === 'EROFS' || code === 'EACCES') throw failure;
        if (tried === TRIES) {
          throw new NoBucket(`The bucket ${at.bucket} breaks off what it sends`, { cause: failure });
        }
      }
    }
  };

  return {
    takeIn: async (source, mostBytes = Number.POSITIVE_INFINITY) => {
      const taken = await takenInto(path.join(incoming, randomUUID()), source, mostBytes);
      if (!taken.ok) return taken;
      const { sha256, bytes, path: file } = taken.value;
      const discard = () => fs.promises.rm(file, { force: true });
      const known = await there(sha256, bytes).catch(async (failure: unknown) => {
        await discard();
        throw failure;
      });
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
        if (state !== 'sound') throw new UnsoundOriginal(sha256, state);
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
        const answer = await ask(`${root}?${query}`);
        if (!answer.ok) return refusing(at, answer);
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
