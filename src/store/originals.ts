/** Originals on disk by the hash of their content: originals/ab/cdef…; written once, read-only, never changed. */
import { createHash, randomUUID } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import { pipeline } from 'node:stream/promises';
import { type FileState, type PhotoFiles, UnsoundOriginal } from '../actions/index.ts';
import { isSha256, type Sha256 } from '../study/index.ts';
import { done } from '../units/index.ts';
import { takenInto } from './taking-in.ts';

export async function syncFolder(folder: string): Promise<void> {
  // Windows has no fsync of a folder; its file system orders renames itself.
  if (process.platform === 'win32') return;
  const opened = await fs.promises.open(folder, 'r');
  try {
    await opened.sync();
  } finally {
    await opened.close();
  }
}

async function hashOf(file: string): Promise<string> {
  const hash = createHash('sha256');
  await pipeline(fs.createReadStream(file), hash);
  return hash.digest('hex');
}

/** So old, what lies half taken in on a shared folder belongs to no process that still runs. */
const ABANDONED_MS = 24 * 3600 * 1000;

/** `shared`: other processes take in on the same folder at the same time. */
export function originalsOnDisk(root: string, { shared = false } = {}): PhotoFiles {
  const incoming = path.join(root, 'incoming');
  fs.mkdirSync(incoming, { recursive: true });
  // What a killed process left half taken in was never acknowledged.
  for (const left of fs.readdirSync(incoming)) {
    const file = path.join(incoming, left);
    if (!shared || Date.now() - fs.statSync(file).mtimeMs > ABANDONED_MS) fs.rmSync(file, { force: true });
  }
  /** What the disk said of originals that were read through and found sound. */
  const sound = new Map<Sha256, string>();
  const shelfOf = (sha256: Sha256) => path.join(root, sha256.slice(0, 2));
  const pathOf = (sha256: Sha256) => path.join(shelfOf(sha256), sha256.slice(2));

  return {
    takeIn: async (source, mostBytes = Number.POSITIVE_INFINITY) => {
      const taken = await takenInto(path.join(incoming, randomUUID()), source, mostBytes);
      if (!taken.ok) return taken;
      const { sha256, bytes, path: temporary } = taken.value;
      const discard = () => fs.promises.rm(temporary, { force: true });
      return done({
        sha256,
        bytes,
        path: temporary,
        known: fs.existsSync(pathOf(sha256)),
        discard,
        keep: async () => {
          if (fs.existsSync(pathOf(sha256))) return discard();
          const shelf = shelfOf(sha256);
          if (!fs.existsSync(shelf)) {
            await fs.promises.mkdir(shelf, { recursive: true });
            await syncFolder(root);
          }
          await fs.promises.chmod(temporary, 0o444);
          await fs.promises.rename(temporary, pathOf(sha256));
          await syncFolder(shelf);
        },
      });
    },
    withFile: async (sha256, use) => {
      const file = pathOf(sha256);
      const seen = await fs.promises.stat(file).catch(() => null);
      if (seen === null) throw new UnsoundOriginal(sha256, 'missing');
      // Read through once for as long as the disk says that nobody wrote to it.
      const state = `${seen.ino} ${seen.size} ${seen.mtimeMs} ${seen.ctimeMs}`;
      if (sound.get(sha256) !== state) {
        if ((await hashOf(file)) !== sha256) throw new UnsoundOriginal(sha256, 'changed');
        sound.set(sha256, state);
      }
      return use(file);
    },
    verify: async (sha256): Promise<FileState> => {
      if (!fs.existsSync(pathOf(sha256))) return 'missing';
      return (await hashOf(pathOf(sha256))) === sha256 ? 'sound' : 'changed';
    },
    list: async () => {
      const found: Sha256[] = [];
      for (const shelf of await fs.promises.readdir(root, { withFileTypes: true })) {
        if (!shelf.isDirectory() || shelf.name.length !== 2) continue;
        for (const rest of await fs.promises.readdir(path.join(root, shelf.name))) {
          const whole = shelf.name + rest;
          if (isSha256(whole)) found.push(whole);
        }
      }
      return found.sort();
    },
  };
}
