import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import type { SpectrumTools } from '../cli/index.ts';
import { readReferenceFolder, readSpectrumFile, spectraAt } from '../decode/index.ts';

/** Spectrum files for the commands. */
export function spectrumTools(): SpectrumTools {
  return {
    async read(path) {
      const read = await readSpectrumFile(path);
      if (!read.ok && (read.refusal.why === 'no-file' || read.refusal.why === 'too-large')) {
        return { read, sha256: null };
      }
      return {
        read,
        sha256: createHash('sha256')
          .update(await readFile(path))
          .digest('hex'),
      };
    },
    at: spectraAt,
    references: readReferenceFolder,
  };
}
