import fs from 'node:fs';
import { createRequire } from 'node:module';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { troubleOf } from '../../src/actions/index.ts';
import { originalsInBucket } from '../../src/store/group/bucket.ts';
import { openOriginals } from '../../src/store/group/open-originals.ts';
import type { Sha256 } from '../../src/study/index.ts';
import { given } from '../engines/small-study.ts';
import { type Line, lineTo } from './line.ts';

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
    await expect(files.withFile(taken.sha256, async () => 1)).rejects.toMatchObject({
      why: 'original-changed',
    });
    expect(await files.takeIn({ bytes: bytes(100) }, 99)).toMatchObject({ refusal: { why: 'too-large' } });
  });

  it('takes its address and keys from the surroundings, and says what is wrong with them', async () => {
    const env = { S3_ENDPOINT: endpoint, S3_KEY_ID: 'S3RVER', S3_SECRET: 'S3RVER' };
    const said = async (address: string, more: object = {}) => {
      const opened = await openOriginals(address, { ...env, ...more });
      return opened.ok ? 'opened' : `${opened.refusal.why}: ${opened.refusal.message}`;
    };
    expect(await said('s3://photos/lab')).toBe('opened');
    expect(await said('s3://photos', { S3_KEY_ID: '', S3_SECRET: '' })).toContain('S3_KEY_ID, S3_SECRET');
    expect(await said('ftp://photos')).toContain('not-an-address');
    expect(await said('s3://photos/lab', { S3_KEY_ID: 'WRONG' })).toBe(
      'no-bucket: originals: The bucket photos refuses these keys (InvalidAccessKeyId): correct S3_KEY_ID and S3_SECRET.',
    );
    expect(await said('s3://none/lab')).toBe(
      'no-bucket: originals: There is no bucket none (NoSuchBucket): make it once.',
    );
    expect(await said('s3://photos/lab', { S3_ENDPOINT: 'http://127.0.0.1:1' })).toBe(
      'no-bucket: originals: The bucket photos does not answer at 127.0.0.1:1.',
    );
  });

  describe('on a line that breaks', () => {
    let line: Line;
    beforeAll(async () => {
      line = await lineTo(Number(new URL(endpoint).port));
    });
    afterAll(() => line.close());
    const onLine = () =>
      originalsInBucket({
        ...keys,
        endpoint: `http://127.0.0.1:${line.port}`,
        bucket: 'photos',
        prefix: 'line',
      });

    it('goes on when the bucket was away for a moment', async () => {
      const files = onLine();
      const taken = given(await files.takeIn({ bytes: bytes(200_000) }));
      line.cut();
      setTimeout(() => line.mend(), 500);
      await taken.keep();
      expect(await files.verify(taken.sha256)).toBe('sound');
      line.cut();
      setTimeout(() => line.mend(), 500);
      expect(await files.withFile(taken.sha256, async (file) => fs.statSync(file).size)).toBe(200_000);
    });

    it('keeps no half of what broke off on its way up, and takes it again', async () => {
      const files = onLine();
      const most = 3_000_000;
      const taken = given(await files.takeIn({ bytes: bytes(most) }));
      line.breakAfter(1_000_000);
      await taken.keep();
      expect(await bucket('line').verify(taken.sha256)).toBe('sound');
      const other = given(await files.takeIn({ bytes: bytes(most + 1) }));
      line.breakAfter(1_000_000, Number.POSITIVE_INFINITY);
      const failure = await other.keep().then(
        () => null,
        (thrown: unknown) => troubleOf(thrown),
      );
      expect(failure).toMatchObject({
        why: 'no-bucket',
        message: expect.stringContaining('The bucket photos does not answer at 127.0.0.1:'),
      });
      line.mend();
      // This store keeps the half under the name of the whole; it must not be taken for it.
      expect(await bucket('line').verify(other.sha256)).not.toBe('sound');
      const again = given(await files.takeIn({ bytes: bytes(most + 1) }));
      expect(again).toMatchObject({ known: false, sha256: other.sha256 });
      await again.keep();
      expect(await bucket('line').verify(other.sha256)).toBe('sound');
    });

    it('begins a download anew that broke off, and never gives half a photograph', async () => {
      const files = onLine();
      const most = 2_000_000;
      const taken = given(await files.takeIn({ bytes: bytes(most) }));
      await taken.keep();
      line.breakAfter(500_000);
      expect(await files.withFile(taken.sha256, async (file) => fs.statSync(file).size)).toBe(most);
      line.breakAfter(500_000, Number.POSITIVE_INFINITY);
      await expect(files.withFile(taken.sha256, async () => 'used')).rejects.toThrow(
        'The bucket photos breaks off what it sends',
      );
      line.mend();
    });
  });
});
