import { createHash } from 'node:crypto';
import { type Entry, openPromise, type ZipFile } from 'yauzl';
import type { ArchiveReader } from '../../actions/index.ts';
import { done, type Outcome, type Refusal, refused } from '../../units/index.ts';

/** More than any study has; a directory of millions is made to choke. */
const MOST_ENTRIES = 300_000;
/** Text is held in memory while it is read. */
const MOST_TEXT_BYTES = 2 ** 30;
/** Honest tables pack to a tenth; what packs to less than a two-hundredth is made to choke. */
const MOST_RATIO = 200;
const SMALL_BYTES = 2 ** 20;

const no = (why: string, message: string): { readonly ok: false; readonly refusal: Refusal } =>
  refused({ why, message });

/** Opens a zip and reads its directory; refuses whatever could write outside, fill the disk or hide a file. */
export async function zipReader(file: string, shown: string): Promise<Outcome<ArchiveReader>> {
  let zip: ZipFile;
  try {
    zip = await openPromise(file, {
      lazyEntries: true,
      autoClose: false,
      validateEntrySizes: true,
      strictFileNames: true,
    });
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'ENOENT')
      return no('no-file', `${shown} is not there: name the file that “retentate pack” wrote.`);
    if (code === 'EISDIR')
      return no('no-file', `${shown} is a folder: name the file that “retentate pack” wrote.`);
    if (code !== undefined) throw error;
    return no('not-an-archive', `${shown} is no whole zip archive: take it from its source again.`);
  }
  const entries = new Map<string, Entry>();
  const refusal = await directory(zip, entries, shown).catch((error: Error) => badDirectory(error, shown));
  if (refusal !== null) {
    zip.close();
    return refused(refusal);
  }
  return done({
    entries: [...entries].map(([path, entry]) => ({ path, bytes: entry.uncompressedSize })),
    text: async (path) => {
      const entry = entries.get(path)!;
      if (entry.uncompressedSize > MOST_TEXT_BYTES) {
        return no(
          'archive-bomb',
          `“${path}” in ${shown} says it has ${entry.uncompressedSize} bytes: too many to be read.`,
        );
      }
      const parts: Buffer[] = [];
      try {
        for await (const part of await zip.openReadStreamPromise(entry)) parts.push(part as Buffer);
      } catch {
        return no(
          'file-changed',
          `“${path}” in ${shown} is damaged: take the archive from its source again.`,
        );
      }
      const bytes = Buffer.concat(parts);
      return done({ text: bytes.toString('utf8'), sha256: createHash('sha256').update(bytes).digest('hex') });
    },
    stream: async (path) =>
      (await zip.openReadStreamPromise(entries.get(path)!)) as AsyncIterable<Uint8Array>,
    close: async () => zip.close(),
  });
}

async function directory(zip: ZipFile, entries: Map<string, Entry>, shown: string): Promise<Refusal | null> {
  for await (const entry of zip.eachEntry()) {
    const path = entry.fileName;
    const name = `“${path.slice(0, 120)}”`;
    if (path.endsWith('/')) continue;
    if (
      !/^[A-Za-z0-9._/-]+$/.test(path) ||
      path.startsWith('/') ||
      path.split('/').some((part) => part === '..' || part === '.' || part === '')
    ) {
      return {
        why: 'path-outside',
        message: `${shown} holds ${name}, a path that leads outside or is none: it was not packed by this program. Nothing was unpacked.`,
      };
    }
    // Unix mode in the upper half; 0o120000 marks a symbolic link.
    const kind = (entry.externalFileAttributes >>> 16) & 0o170000;
    if (kind !== 0 && kind !== 0o100000) {
      return {
        why: 'not-a-plain-file',
        message: `${shown} holds ${name}, which is a link or a device and no file: nothing was unpacked.`,
      };
    }
    if (entry.isEncrypted())
      return {
        why: 'encrypted',
        message: `${name} in ${shown} is encrypted: ask for an archive without a password.`,
      };
    if (entries.has(path))
      return {
        why: 'file-twice',
        message: `${shown} holds ${name} twice: it was changed after packing. Nothing was unpacked.`,
      };
    if (
      entry.uncompressedSize > SMALL_BYTES &&
      entry.uncompressedSize > MOST_RATIO * Math.max(entry.compressedSize, 1)
    ) {
      return {
        why: 'archive-bomb',
        message: `${name} in ${shown} would grow from ${entry.compressedSize} to ${entry.uncompressedSize} bytes: made to fill a disk. Nothing was unpacked.`,
      };
    }
    entries.set(path, entry);
    if (entries.size > MOST_ENTRIES)
      return {
        why: 'archive-bomb',
        message: `${shown} holds more than ${MOST_ENTRIES} files, more than any study: nothing was unpacked.`,
      };
  }
  return null;
}

/** The library refuses some names itself, and whatever contradicts the zip format. */
function badDirectory(error: Error, shown: string): Refusal {
  return /absolute path|invalid relative path|invalid characters/i.test(error.message)
    ? {
        why: 'path-outside',
        message: `${shown} holds a path that leads outside (${error.message.slice(0, 120)}): nothing was unpacked.`,
      }
    : { why: 'not-an-archive', message: `${shown} is no whole zip archive: take it from its source again.` };
}
