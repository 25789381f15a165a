import fs from 'node:fs';
import { createRequire } from 'node:module';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { originalsInBucket } from '../../src/store/group/bucket.ts';
import { openOriginals } from '../../src/store/group/open-originals.ts';
import type { Sha256 } from '../../src/study/index.ts';
import { given } from '../engines/small-study.ts';

/** A server of the same protocol, on this machine; it overwrites where others refuse, which content as name makes harmless. */
const S3rver = createRequire(import.meta.url)('s3rver') as new (
  options: object,
) => {
  run(): Promise<{ port: number }>;
  close(): Promise<void>;
};

describe('originals in a bucket', () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-bucket-'));
  let server: InstanceType<typeof S3rver>;
  let endpoint: string;
  const keys = { keyId: 'S3RVER', secret: 'S3RVER', region: 'us-east-1' };

  beforeAll(async () => {
    server = new S3rver({
      port: 0,
      address: '127.0.0.1',
      silent: true,
      directory: folder,
      configureBuckets: [{ name: 'photos' }],
    });
    endpoint = `http://127.0.0.1:${(await server.run()).port}`;
  });
  afterAll(async () => {
    await server.close();
    fs.rmSync(folder, { recursive: true, force: true });
  });
  const bucket = (prefix = 'lab/one') => originalsInBucket({ ...keys, endpoint, bucket: 'photos', prefix });
  const bytes = (n: number) => Uint8Array.from({ length: n }, (_, k) => (k * 31 + n) % 251);

  it('keeps, gives back, verifies and lists; the same content is kept once', async () => {
    const files = bucket();
    const taken = given(await files.takeIn({ bytes: bytes(70_000) }));
    expect(taken.known).toBe(false);
    await taken.keep();
    const again = given(await bucket().takeIn({ bytes: bytes(70_000) }));
    expect(again).toMatchObject({ known: true, sha256: taken.sha256, bytes: 70_000 });
    await again.keep();
    const other = given(await files.takeIn({ bytes: bytes(5) }));
    await other.discard();
    const back = await files.withFile(taken.sha256, async (file) => new Uint8Array(fs.readFileSync(file)));
    expect(back).toEqual(bytes(70_000));
    expect(await files.verify(taken.sha256)).toBe('sound');
    expect(await files.verify('0'.repeat(64) as Sha256)).toBe('missing');
    expect(await files.list()).toEqual([taken.sha256]);
    expect(await bucket('lab/two').list()).toEqual([]);
  });

  it('tells a changed original and one that is too large', async () => {
    const files = bucket('changed');
    const taken = given(await files.takeIn({ bytes: bytes(100) }));
    await taken.keep();
    const other = given(await files.takeIn({ bytes: bytes(101) }));
    await other.keep();
    const at = (sha256: string) =>
      path.join(folder, 'photos', 'changed', sha256.slice(0, 2), `${sha256.slice(2)}._S3rver_object`);
    fs.copyFileSync(at(other.sha256), at(taken.sha256));
    expect(await files.verify(taken.sha256)).toBe('changed');
    await expect(files.withFile(taken.sha256, async () => 1)).rejects.toThrow('is changed in the bucket');
    expect(await files.takeIn({ bytes: bytes(100) }, 99)).toMatchObject({ refusal: { why: 'too-large' } });
  });

  it('takes its address and keys from the surroundings and says which are missing', () => {
    const env = { S3_ENDPOINT: endpoint, S3_KEY_ID: 'a', S3_SECRET: 'b' };
    expect(openOriginals('s3://photos/lab', env).ok).toBe(true);
    expect(openOriginals('s3://photos', { S3_ENDPOINT: endpoint })).toMatchObject({
      refusal: { message: expect.stringContaining('S3_KEY_ID, S3_SECRET') },
    });
    expect(openOriginals('ftp://photos', env)).toMatchObject({ refusal: { why: 'not-an-address' } });
  });
});
