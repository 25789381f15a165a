import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { pipeline } from 'node:stream/promises';
import type { PhotoSearch } from '../cli/index.ts';
import { drawOutlines, findingCrew } from '../decode/index.ts';
import { completeness } from './completeness.ts';

/** Decoding and finding for the commands: a crew on all cores. */
export function photoSearch(): PhotoSearch {
  const crew = findingCrew();
  return {
    search: (order, progress, signal) => crew.search(order, progress, signal),
    async sha256(path) {
      const hash = createHash('sha256');
      try {
        await pipeline(createReadStream(path), hash);
      } catch {
        return null;
      }
      return hash.digest('hex');
    },
    outline: drawOutlines,
    completeness,
    close: () => crew.close(),
  };
}
