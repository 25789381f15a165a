import { createHash } from 'node:crypto';
import { createReadStream, createWriteStream } from 'node:fs';
import { rename, rm } from 'node:fs/promises';
import { pipeline } from 'node:stream/promises';
import { ZipFile } from 'yazl';
import type { ArchiveWriter } from '../../actions/index.ts';

/** The same for every entry, so that the same study gives the same bytes. Zip knows no year before 1980. */
const MTIME = new Date(1980, 0, 1, 12);

/** Writes a zip beside the wanted name and moves it there when it is whole. */
export function zipWriter(file: string): ArchiveWriter {
  const making = `${file}.making`;
  const zip = new ZipFile();
  const written = pipeline(zip.outputStream, createWriteStream(making));
  // A failure is told at the end; until then it must not end the process.
  written.catch(() => {});
  return {
    addText: async (path, text) => {
      const bytes = Buffer.from(text, 'utf8');
      zip.addBuffer(bytes, path, { mtime: MTIME, mode: 0o100644, compress: true });
      return { bytes: bytes.length, sha256: createHash('sha256').update(bytes).digest('hex') };
    },
    addFile: async (path, from) => {
      // Resolved when it is read to its end: a file lent by a bucket is gone afterwards.
      const stream = createReadStream(from);
      const read = new Promise<void>((resolve, reject) => {
        stream.once('close', resolve);
        stream.once('error', reject);
      });
      // Photographs are packed already; stored, they are read without unpacking.
      zip.addReadStream(stream, path, { mtime: MTIME, mode: 0o100644, compress: false });
      // A disk that refuses ends the writing, and with it the reading.
      await Promise.race([read, written]);
    },
    end: async () => {
      zip.end();
      await written;
      await rename(making, file);
    },
    abandon: async () => {
      zip.end();
      await written.catch(() => {});
      await rm(making, { force: true });
    },
  };
}
