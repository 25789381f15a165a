/** The embedded database of one laboratory folder: opened durably, made from a prepared copy where there is one. */
import { randomUUID } from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { PGlite } from '@electric-sql/pglite';
import { done, type Outcome, refused } from '../units/index.ts';
import { DurableFolder, durableStartParams } from './durable-folder.ts';

/** The major version of PostgreSQL inside the pinned PGlite; another one's files can't be read. */
const MAJOR = '18';

const start = (folder: string): Promise<PGlite> =>
  PGlite.create({ fs: new DurableFolder(folder), startParams: durableStartParams() });

/** Making a database anew takes seconds and much memory; a prepared one is copied in a fraction of a second. */
function preparedFolder(): string {
  const cache = process.env.XDG_CACHE_HOME || path.join(os.homedir(), '.cache');
  return path.join(cache, 'retentate', `database-${MAJOR}-1`);
}

async function makeDatabase(folder: string, prepared: string): Promise<void> {
  if (fs.existsSync(path.join(prepared, 'PG_VERSION'))) {
    await fs.promises.cp(prepared, folder, { recursive: true });
    return;
  }
  const made = await start(folder);
  await made.exec('checkpoint');
  await made.close();
  try {
    const beside = `${prepared}.${randomUUID()}`;
    await fs.promises.mkdir(path.dirname(prepared), { recursive: true });
    await fs.promises.cp(folder, beside, { recursive: true });
    await fs.promises.rename(beside, prepared);
  } catch {
    // Somebody else was quicker, or there is no place for a copy: only the next start is slower.
  }
}

export async function openEmbedded(folder: string, prepared = preparedFolder()): Promise<Outcome<PGlite>> {
  const versionFile = path.join(folder, 'PG_VERSION');
  if (!fs.existsSync(versionFile)) {
    fs.rmSync(folder, { recursive: true, force: true });
    await makeDatabase(folder, prepared);
  }
  const version = fs.readFileSync(versionFile, 'utf8').trim();
  if (version !== MAJOR) {
    return refused({
      why: 'other-database-version',
      message: `The database in ${folder} is of PostgreSQL ${version} and this version reads ${MAJOR}; open it with the version of Retentate that made it and pack its studies.`,
    });
  }
  return done(await start(folder));
}
