/**
 * A laboratory folder:
 *   laboratory.json   its identity and the version of its layout; written last when it is made
 *   database/         embedded Postgres
 *   originals/        photographs by the hash of their content
 *   laboratory.lock   who has it open
 */
import fs from 'node:fs';
import path from 'node:path';
import { sql } from 'drizzle-orm';
import { drizzle } from 'drizzle-orm/pglite';
import type { Clock, Names, PhotoFiles, Records, StudyRows } from '../actions/index.ts';
import { type Laboratory, makeLaboratory } from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { studyRows } from './archive/study-rows.ts';
import { syncTree } from './durable-folder.ts';
import { openEmbedded } from './embedded-postgres.ts';
import { takeLock } from './laboratory-lock.ts';
import { migrate } from './migrate.ts';
import { originalsOnDisk, syncFolder } from './originals.ts';
import { embeddedTransactions, postgresRecords } from './postgres-records.ts';
import * as t from './schema.ts';

const FORMAT = 'retentate/laboratory';
const LAYOUT = 1;
const CARD = 'laboratory.json';
const OURS = new Set([CARD, 'database', 'originals', 'laboratory.lock']);

export interface OpenLaboratory {
  readonly folder: string;
  readonly laboratory: Laboratory;
  /** True when this opening made it. */
  readonly made: boolean;
  readonly records: Records;
  readonly files: PhotoFiles;
  /** Rows as they are, for packing a study and bringing one in. */
  readonly rows: StudyRows;
  /** Tells a second process that wants the folder where this one is reached. */
  announce(address: string): void;
  close(): Promise<void>;
}

export interface OpenWish {
  readonly clock: Clock;
  readonly names: Names;
  /** What to call it when it is made; null: refuse when there is none. */
  readonly make: { readonly name: string; readonly invented: boolean } | null;
  /** A prepared empty database to copy; for tests and packaging. */
  readonly prepared?: string;
  /** Room on the folder's disk, in bytes; as the system says, where it is not given. */
  readonly freeBytes?: (folder: string) => number;
}

/**
 * So much room is left alone. The embedded engine writes its log ahead in files of 16 MB; one that finds no room stops it
 * for good, so a change is turned away before it comes to that.
 */
const RESERVE_BYTES = 64 * 2 ** 20;

const freeOnDisk = (folder: string): number => {
  const { bavail, bsize } = fs.statfsSync(folder);
  return bavail * bsize;
};

interface Card {
  readonly format: string;
  readonly layout: number;
  readonly id: string;
}

function readCard(folder: string): Outcome<Card | null> {
  const file = path.join(folder, CARD);
  if (!fs.existsSync(file)) return done(null);
  let card: Card;
  try {
    card = JSON.parse(fs.readFileSync(file, 'utf8')) as Card;
  } catch {
    return refused({
      why: 'not-a-laboratory',
      message: `${file} can't be read; put back the file from your backup, the rest of the folder is untouched.`,
    });
  }
  if (card.format !== FORMAT || typeof card.layout !== 'number') {
    return refused({
      why: 'not-a-laboratory',
      message: `${file} is not the card of a laboratory; choose another folder.`,
    });
  }
  if (card.layout > LAYOUT) {
    return refused({
      why: 'newer-layout',
      message: `The laboratory ${folder} has layout ${card.layout} and this version knows ${LAYOUT}; update Retentate to open it.`,
    });
  }
  return done(card);
}

async function writeCard(folder: string, laboratory: Laboratory): Promise<void> {
  const temporary = path.join(folder, `${CARD}.new`);
  const card: Card = { format: FORMAT, layout: LAYOUT, id: laboratory.id };
  const file = await fs.promises.open(temporary, 'w');
  await file.writeFile(`${JSON.stringify(card, null, 2)}\n`);
  await file.sync();
  await file.close();
  await fs.promises.rename(temporary, path.join(folder, CARD));
  await syncFolder(folder);
}

/** Is there a laboratory, may one be made, or is the folder something else's? */
function lookAt(folder: string, mayMake: boolean): Outcome<'there' | 'make'> {
  if (fs.existsSync(folder) && !fs.statSync(folder).isDirectory()) {
    return refused({ why: 'not-a-folder', message: `${folder} is a file; name a folder.` });
  }
  const inside = fs.existsSync(folder) ? fs.readdirSync(folder) : [];
  if (inside.includes(CARD)) return done('there');
  // The leavings of a making that was killed may be made again; anything else may not.
  const others = inside.filter((name) => !OURS.has(name) && name !== `${CARD}.new`);
  if (!mayMake) {
    return refused({ why: 'no-laboratory', message: `There is no laboratory in ${folder}; check the path.` });
  }
  if (others.length > 0) {
    return refused({
      why: 'not-empty',
      message: `${folder} is no laboratory and holds other things (“${others[0]}”); choose a new or empty folder.`,
    });
  }
  return done('make');
}

/** Opens the laboratory in the folder, making it where `wish.make` allows; refuses with the reason. */
export async function openLaboratory(givenFolder: string, wish: OpenWish): Promise<Outcome<OpenLaboratory>> {
  const folder = path.resolve(givenFolder);
  const seen = lookAt(folder, wish.make !== null);
  if (!seen.ok) return seen;
  fs.mkdirSync(folder, { recursive: true });
  const lock = await takeLock(folder, wish.clock.now());
  if (!lock.ok) return lock;
  const undo: (() => Promise<void>)[] = [lock.value.release];
  try {
    const opened = await openInside(folder, wish, undo);
    if (!opened.ok) {
      await closeAll(undo);
      return opened;
    }
    return done({ ...opened.value, announce: lock.value.announce, close: () => closeAll(undo) });
  } catch (failure) {
    await closeAll(undo);
    throw failure;
  }
}

/** The last opened is closed first; all are, even when one fails. */
async function closeAll(undo: (() => Promise<void>)[]): Promise<void> {
  let failure: unknown = null;
  for (let close = undo.pop(); close; close = undo.pop()) {
    try {
      await close();
    } catch (failed) {
      failure ??= failed;
    }
  }
  if (failure) throw failure;
}

async function openInside(
  folder: string,
  wish: OpenWish,
  undo: (() => Promise<void>)[],
): Promise<Outcome<Omit<OpenLaboratory, 'announce' | 'close'>>> {
  // Read under the lock: another process may have been making it until now.
  const card = readCard(folder);
  if (!card.ok) return card;
  const making = card.value === null;
  if (making) {
    fs.rmSync(path.join(folder, 'database'), { recursive: true, force: true });
    fs.mkdirSync(path.join(folder, 'originals'), { recursive: true });
  } else if (!fs.existsSync(path.join(folder, 'database', 'PG_VERSION'))) {
    return refused({
      why: 'no-database',
      message: `The laboratory ${folder} has lost its database folder; put it back from your backup.`,
    });
  }
  const free = () => (wish.freeBytes ?? freeOnDisk)(folder);
  if (free() < RESERVE_BYTES) {
    return refused({
      why: 'disk-full',
      message: `The disk of ${folder} has ${Math.floor(free() / 2 ** 20)} MB left and opening the laboratory needs ${RESERVE_BYTES / 2 ** 20}; make room, then open it again. Nothing in it was changed.`,
    });
  }
  const room = (): void => {
    if (free() >= RESERVE_BYTES) return;
    throw Object.assign(new Error('no room on the disk'), { code: 'ENOSPC', path: folder });
  };
  const database = await openEmbedded(path.join(folder, 'database'), wish.prepared);
  if (!database.ok) return database;
  const pg = database.value;
  undo.push(() => pg.close());
  const db = drizzle(pg);
  const migrated = await migrate(db);
  if (!migrated.ok) return migrated;

  if (making) {
    const made = makeLaboratory({
      id: wish.names.next(),
      name: wish.make!.name,
      invented: wish.make!.invented,
      madeAt: wish.clock.now(),
    });
    if (!made.ok) return made;
    await db.insert(t.laboratory).values(made.value);
    await db.execute(sql`checkpoint`);
    await syncTree(path.join(folder, 'database'));
    await syncFolder(path.dirname(folder));
    await writeCard(folder, made.value);
  }
  const records = postgresRecords(embeddedTransactions(db, room), async () => {});
  const laboratory = await records.look((look) => look.laboratory.get());
  if (card.value && card.value.id !== laboratory.id) {
    return refused({
      why: 'mixed-up',
      message: `The card and the database in ${folder} are of two laboratories; put back the folder from one backup.`,
    });
  }
  return done({
    folder,
    laboratory,
    made: making,
    records,
    rows: studyRows(db),
    files: originalsOnDisk(path.join(folder, 'originals')),
  });
}
