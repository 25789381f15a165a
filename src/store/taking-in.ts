/** Takes a photograph's bytes into a file of its own, hashing them on the way. */
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import type { PhotoSource } from '../actions/index.ts';
import type { Sha256 } from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';

async function* partsOf(source: PhotoSource): AsyncIterable<Uint8Array> {
  if ('bytes' in source) yield source.bytes;
  else if ('path' in source) yield* fs.createReadStream(source.path);
  else yield* source.stream;
}

export interface TakenInto {
  readonly sha256: Sha256;
  readonly bytes: number;
  readonly path: string;
}

/** On disk and synced when it resolves; refuses what is larger than `mostBytes` and leaves nothing of it. */
export async function takenInto(
  file: string,
  source: PhotoSource,
  mostBytes: number,
): Promise<Outcome<TakenInto>> {
  const discard = () => fs.promises.rm(file, { force: true });
  const hash = createHash('sha256');
  let bytes = 0;
  const opened = await fs.promises.open(file, 'wx');
  try {
    for await (const part of partsOf(source)) {
      bytes += part.length;
      if (bytes > mostBytes) {
        await discard();
        return refused({
          why: 'too-large',
          message: `The photograph is larger than ${Math.round(mostBytes / 1e6)} MB; bring it in smaller parts.`,
        });
      }
      hash.update(part);
      await opened.writeFile(part);
    }
    await opened.sync();
  } catch (failure) {
    await discard();
    throw failure;
  } finally {
    await opened.close();
  }
  return done({ sha256: hash.digest('hex') as Sha256, bytes, path: file });
}
