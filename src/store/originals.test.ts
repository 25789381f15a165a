import { createHash } from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import type { PhotoSource } from '../actions/index.ts';
import { originalsOnDisk } from './originals.ts';

describe('originals on disk', () => {
  const root = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-originals-'));
  const files = originalsOnDisk(root);
  const bytes = new TextEncoder().encode('a photograph');
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  afterAll(() => fs.rmSync(root, { recursive: true, force: true }));

  const takeIn = async (source: PhotoSource, mostBytes?: number) => {
    const taken = await files.takeIn(source, mostBytes);
    if (!taken.ok) throw new Error(taken.refusal.why);
    return taken.value;
  };

  it('keeps bytes, a file and a stream under the same hash, once', async () => {
    const first = await takeIn({ bytes });
    expect(first).toMatchObject({ sha256, bytes: 12, known: false });
    await first.keep();
    const file = path.join(root, 'photo.jpg');
    fs.writeFileSync(file, bytes);
    const second = await takeIn({ path: file });
    expect(second).toMatchObject({ sha256, known: true });
    await second.keep();
    const third = await takeIn({
      stream: (async function* () {
        yield bytes.subarray(0, 5);
        yield bytes.subarray(5);
      })(),
    });
    expect(third).toMatchObject({ sha256, bytes: 12, known: true });
    await third.discard();
    expect(await files.list()).toEqual([sha256]);
    expect(fs.readdirSync(path.join(root, 'incoming'))).toEqual([]);
    expect(await files.withFile(first.sha256, async (kept) => fs.readFileSync(kept, 'utf8'))).toBe(
      'a photograph',
    );
  });

  it('makes an original that nobody writes to, and sees when it was changed or lost', async () => {
    const taken = await takeIn({ bytes: new TextEncoder().encode('another') });
    await taken.keep();
    const kept = path.join(root, taken.sha256.slice(0, 2), taken.sha256.slice(2));
    expect(fs.statSync(kept).mode & 0o222).toBe(0);
    expect(await files.verify(taken.sha256)).toBe('sound');
    const read = () => files.withFile(taken.sha256, async (file) => fs.readFileSync(file, 'utf8'));
    expect(await read()).toBe('another');
    fs.chmodSync(kept, 0o644);
    fs.writeFileSync(kept, 'Another');
    expect(await files.verify(taken.sha256)).toBe('changed');
    await expect(read()).rejects.toMatchObject({ why: 'original-changed' });
    fs.rmSync(kept);
    expect(await files.verify(taken.sha256)).toBe('missing');
    await expect(read()).rejects.toMatchObject({ why: 'original-missing' });
  });

  it('leaves nothing of a stream that breaks off or is too long', async () => {
    const broken = (async function* () {
      yield bytes;
      throw new Error('the cable was pulled');
    })();
    await expect(files.takeIn({ stream: broken })).rejects.toThrow('the cable was pulled');
    expect(await files.takeIn({ bytes }, 11)).toMatchObject({ ok: false, refusal: { why: 'too-large' } });
    expect(fs.readdirSync(path.join(root, 'incoming'))).toEqual([]);
  });

  it('clears away what a killed process had half taken in', async () => {
    fs.writeFileSync(path.join(root, 'incoming', 'half'), 'ha');
    originalsOnDisk(root);
    expect(fs.readdirSync(path.join(root, 'incoming'))).toEqual([]);
  });
});
