/** Packing a study out of a laboratory folder and bringing one in, for the commands. */
import { rm, stat } from 'node:fs/promises';
import { basename, dirname, resolve } from 'node:path';
import { packStudy, unpackStudy } from '../actions/index.ts';
import type { ArchiveTools } from '../cli/index.ts';
import { openLaboratory, systemClock, systemNames, zipReader, zipWriter } from '../store/index.ts';
import { refused } from '../units/index.ts';

export function archiveTools(version: string): ArchiveTools {
  return {
    async pack(folder, study, out, told) {
      const file = resolve(out);
      const parent = await stat(dirname(file)).catch(() => null);
      if (!parent?.isDirectory()) {
        return refused({
          why: 'no-folder',
          message: `${dirname(file)} is not a folder: name a file in one that is there.`,
        });
      }
      const opened = await openLaboratory(folder, { clock: systemClock, names: systemNames, make: null });
      if (!opened.ok) return opened;
      const { records, files, rows, close } = opened.value;
      try {
        return await packStudy({ records, files, rows, clock: systemClock }, zipWriter(file), {
          study,
          version,
          told,
        });
      } finally {
        await close();
      }
    },
    async unpack(file, folder, as, told) {
      const archive = await zipReader(file, `“${basename(file)}”`);
      if (!archive.ok) return archive;
      try {
        const opened = await openLaboratory(folder, {
          clock: systemClock,
          names: systemNames,
          make: { name: 'Our laboratory', invented: false },
        });
        if (!opened.ok) return opened;
        const { records, files, rows, close, made } = opened.value;
        let brought = false;
        try {
          const unpacked = await unpackStudy({ records, files, rows, clock: systemClock }, archive.value, {
            ...(as === undefined ? {} : { as }),
            told,
          });
          brought = unpacked.ok;
          return unpacked;
        } finally {
          await close();
          // A laboratory made for an archive that was refused is not left behind.
          if (made && !brought) await rm(resolve(folder), { recursive: true, force: true });
        }
      } finally {
        await archive.value.close();
      }
    },
  };
}
