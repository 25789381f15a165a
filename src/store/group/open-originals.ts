import fs from 'node:fs';
import path from 'node:path';
import type { PhotoFiles } from '../../actions/index.ts';
import { done, type Outcome, refused } from '../../units/index.ts';
import { originalsOnDisk } from '../originals.ts';
import { originalsInBucket, reachBucket } from './bucket.ts';

/**
 * Originals where an address says: a folder, or s3://bucket/prefix. A bucket's server and keys come from the surroundings:
 * S3_ENDPOINT, S3_REGION, S3_KEY_ID, S3_SECRET.
 */
export async function openOriginals(
  address: string,
  env: Readonly<Record<string, string | undefined>> = process.env,
): Promise<Outcome<PhotoFiles>> {
  const bucket = /^s3:\/\/([a-z0-9][a-z0-9.-]{1,61}[a-z0-9])(?:\/(.*))?$/.exec(address);
  if (bucket) {
    const { S3_ENDPOINT: endpoint, S3_KEY_ID: keyId, S3_SECRET: secret, S3_REGION: region } = env;
    if (!endpoint || !keyId || !secret) {
      const missing = Object.entries({ S3_ENDPOINT: endpoint, S3_KEY_ID: keyId, S3_SECRET: secret })
        .filter(([, value]) => !value)
        .map(([name]) => name);
      return refused({
        why: 'no-keys',
        message: `originals: set ${missing.join(', ')} for the bucket ${bucket[1]} (S3_REGION too where it matters).`,
      });
    }
    const prefix = (bucket[2] ?? '').replace(/\/+$/, '');
    const at = { endpoint, keyId, secret, region: region ?? 'us-east-1', bucket: bucket[1]!, prefix };
    try {
      await reachBucket(at);
    } catch (failure) {
      const said = failure instanceof Error ? failure.message : String(failure);
      return refused({ why: 'no-bucket', message: `originals: ${said}.` });
    }
    return done(originalsInBucket(at));
  }
  if (/^[a-z0-9]+:\/\//i.test(address)) {
    return refused({
      why: 'not-an-address',
      message: `originals: a folder, or s3://bucket/prefix, is needed; given ${address}.`,
    });
  }
  const folder = path.resolve(address);
  try {
    fs.mkdirSync(folder, { recursive: true });
    fs.accessSync(folder, fs.constants.W_OK);
  } catch (failure) {
    return refused({
      why: 'no-originals',
      message: `originals: ${folder} can't be written (${(failure as NodeJS.ErrnoException).code ?? 'unknown'}); choose a folder that this account may write.`,
    });
  }
  return done(originalsOnDisk(folder, { shared: true }));
}
