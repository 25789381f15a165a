/** A whole laboratory, row by row and original by original: moved to another place, put into one file, brought back. */
import type { Sha256 } from '../../study/index.ts';
import { done, type Outcome, refused } from '../../units/index.ts';
import type { PhotoFiles } from '../ports.ts';
import type { ArchiveReader, ArchiveWriter, Row, StudyRows, TableShape, Tables } from './archive-ports.ts';
import { readCsv, writeCsv } from './safe-csv.ts';

export interface Place {
  readonly rows: StudyRows;
  readonly files: PhotoFiles;
}

export interface Carried {
  readonly tables: number;
  readonly rows: number;
  readonly originals: number;
}

type Told = (done: number, of: number) => void;

/** The state of the database itself, which every place has its own of. */
const OF_THE_PLACE = new Set(['schema_step']);
/** Made with the place; the same row on both sides. */
const ALREADY_THERE = new Set(['laboratory']);

/** Every table after those that its rows name; where two name each other, the names are filled in at the end. */
export function orderOfWriting(shapes: readonly TableShape[]): readonly string[] {
  const order: string[] = [];
  const under = new Set<string>();
  const byName = new Map(shapes.map((shape) => [shape.name, shape]));
  const visit = (name: string): void => {
    const shape = byName.get(name);
    if (!shape || under.has(name) || order.includes(name)) return;
    under.add(name);
    // Names that must be there come first, so that a circle is broken at one that may be left open for a while.
    const mayWait = (column: string) => shape.columns.find((c) => c.name === column)?.nullable === true;
    const links = [...shape.links].sort((x, y) => Number(mayWait(x.column)) - Number(mayWait(y.column)));
    for (const { table } of links) visit(table);
    under.delete(name);
    order.push(name);
  };
  for (const { name } of shapes) visit(name);
  return order;
}

async function allRows(rows: StudyRows): Promise<{ shapes: readonly TableShape[]; tables: Tables }> {
  const shapes = (await rows.shapes()).filter(({ name }) => !OF_THE_PLACE.has(name));
  const tables = await rows.collect(shapes.map(({ name }) => ({ name, where: { all: true } })));
  return { shapes, tables };
}

const count = (tables: Tables): number => [...tables.values()].reduce((sum, list) => sum + list.length, 0);

/** One row as text, without what the database numbers anew. */
const written = (row: Row, shape: TableShape): string =>
  JSON.stringify(shape.columns.filter((c) => !c.generated).map((c) => row[c.name] ?? null));

/** The first table in which two places differ, and how; null when they hold the same, letter for letter. */
export function differenceBetween(one: Tables, other: Tables, shapes: readonly TableShape[]): string | null {
  for (const shape of shapes) {
    const sides = [one, other].map((tables) =>
      (tables.get(shape.name) ?? []).map((row) => written(row, shape)),
    );
    if (!shape.columns.some((c) => c.generated)) for (const side of sides) side.sort();
    const [a, b] = sides as [string[], string[]];
    if (a.length !== b.length) return `${shape.name} has ${a.length} rows here and ${b.length} there`;
    const at = a.findIndex((row, k) => row !== b[k]);
    if (at >= 0) return `row ${at + 1} of ${shape.name} differs`;
  }
  return null;
}

async function bringRows(to: Place, tables: Tables, shapes: readonly TableShape[]): Promise<Outcome<void>> {
  const there = await allRows(to.rows);
  const used = there.shapes.find(
    ({ name }) => !ALREADY_THERE.has(name) && (there.tables.get(name)?.length ?? 0) > 0,
  );
  if (used) {
    return refused({
      why: 'not-empty',
      message: `The place to bring it to holds records already (${used.name}); choose one that is new and empty.`,
    });
  }
  const order = orderOfWriting(shapes).filter((name) => !ALREADY_THERE.has(name));
  const brought = await to.rows.bringIn(tables, order, []);
  if (!brought.ok) return brought;
  const now = await allRows(to.rows);
  const differs = differenceBetween(tables, now.tables, shapes);
  return differs === null
    ? done(undefined)
    : refused({
        why: 'not-the-same',
        message: `Both sides were compared and differ: ${differs}. Keep the first.`,
      });
}

/** Brings one original and looks at what arrived. */
async function bringOriginal(to: PhotoFiles, sha256: Sha256, source: Parameters<PhotoFiles['takeIn']>[0]) {
  const taken = await to.takeIn(source);
  if (!taken.ok) return taken;
  if (taken.value.sha256 !== sha256) {
    await taken.value.discard();
    return refused({
      why: 'original-changed',
      message: `The original ${sha256} is not what was brought in; put it back from your backup first.`,
    });
  }
  await taken.value.keep();
  return done(undefined);
}

/** Carries everything to a new, empty place and compares both sides before it says done. The first place stays as it is. */
export async function moveLaboratory(
  from: Place,
  to: Place,
  told: Told = () => {},
): Promise<Outcome<Carried>> {
  const { shapes, tables } = await allRows(from.rows);
  const originals = await from.files.list();
  for (const [at, sha256] of originals.entries()) {
    const brought = await from.files.withFile(sha256, (path) => bringOriginal(to.files, sha256, { path }));
    if (!brought.ok) return brought;
    if ((await to.files.verify(sha256)) !== 'sound') {
      return refused({
        why: 'not-the-same',
        message: `The original ${sha256} did not arrive whole; try again.`,
      });
    }
    told(at + 1, originals.length);
  }
  const brought = await bringRows(to, tables, shapes);
  return brought.ok
    ? done({ tables: shapes.length, rows: count(tables), originals: originals.length })
    : brought;
}

export const BACKUP_FORMAT = 'retentate/backup/1';
const CARD = 'backup.json';

export interface BackupCard {
  readonly format: string;
  readonly version: string;
  readonly schema: string;
  readonly at: string;
  readonly laboratory: {
    readonly id: string;
    readonly name: string;
    readonly invented: boolean;
    readonly madeAt: string;
  };
  readonly files: readonly { readonly path: string; readonly sha256: string }[];
}

/** Everything in one file: tables as CSV, originals as they are, and a card with the hash of each. */
export async function backUp(
  from: Place,
  writer: ArchiveWriter,
  wish: { readonly version: string; readonly at: string; readonly told?: Told },
): Promise<Outcome<Carried>> {
  try {
    const { shapes, tables } = await allRows(from.rows);
    const files: { path: string; sha256: string }[] = [];
    const originals = await from.files.list();
    for (const [at, sha256] of originals.entries()) {
      if ((await from.files.verify(sha256)) !== 'sound') {
        await writer.abandon();
        return refused({
          why: 'original-changed',
          message: `The original ${sha256} is not what was brought in; a backup of it would keep the fault. “retentate check” lists all such.`,
        });
      }
      await from.files.withFile(sha256, (path) => writer.addFile(`originals/${sha256}`, path));
      files.push({ path: `originals/${sha256}`, sha256 });
      wish.told?.(at + 1, originals.length);
    }
    for (const shape of shapes) {
      const path = `records/${shape.name}.csv`;
      const { sha256 } = await writer.addText(path, writeCsv(shape.columns, tables.get(shape.name) ?? []));
      files.push({ path, sha256 });
    }
    const [laboratory] = tables.get('laboratory') ?? [];
    const card: BackupCard = {
      format: BACKUP_FORMAT,
      version: wish.version,
      schema: await from.rows.schema(),
      at: wish.at,
      laboratory: {
        id: String(laboratory?.id),
        name: String(laboratory?.name),
        invented: laboratory?.invented === true,
        madeAt: String(laboratory?.made_at),
      },
      files,
    };
    await writer.addText(CARD, `${JSON.stringify(card, null, 1)}\n`);
    await writer.end();
    return done({ tables: shapes.length, rows: count(tables), originals: originals.length });
  } catch (failure) {
    await writer.abandon();
    throw failure;
  }
}

/** The card of a backup, checked to be one. */
export async function readBackup(archive: ArchiveReader): Promise<Outcome<BackupCard>> {
  const none = refused({
    why: 'not-a-backup',
    message: 'This file is no backup of a laboratory; choose one that “retentate backup” wrote.',
  });
  if (!archive.entries.some(({ path }) => path === CARD)) return none;
  const text = await archive.text(CARD);
  if (!text.ok) return text;
  try {
    const card = JSON.parse(text.value.text) as BackupCard;
    const sound =
      card.format === BACKUP_FORMAT && typeof card.laboratory?.id === 'string' && Array.isArray(card.files);
    return sound ? done(card) : none;
  } catch {
    return none;
  }
}

/** Brings a backup to a new, empty place; every file against its hash, every row compared with what arrived. */
export async function restoreBackup(
  archive: ArchiveReader,
  card: BackupCard,
  to: Place,
  told: Told = () => {},
): Promise<Outcome<Carried>> {
  if (card.schema > (await to.rows.schema())) {
    return refused({
      why: 'newer-backup',
      message: `The backup was made by version ${card.version}, whose records are newer than this version knows; update Retentate.`,
    });
  }
  const shapes = (await to.rows.shapes()).filter(({ name }) => !OF_THE_PLACE.has(name));
  const tables = new Map<string, readonly Row[]>();
  const originals = card.files.filter(({ path }) => path.startsWith('originals/'));
  for (const shape of shapes) {
    const path = `records/${shape.name}.csv`;
    const listed = card.files.find((file) => file.path === path);
    // A table that came later than the backup is empty.
    if (!listed) continue;
    const text = await archive.text(path);
    if (!text.ok) return text;
    if (text.value.sha256 !== listed.sha256) return damaged(path);
    const rows = readCsv(text.value.text, shape.columns, path);
    if (!rows.ok) return rows;
    tables.set(shape.name, rows.value);
  }
  const unknown = card.files.find(
    ({ path }) => path.startsWith('records/') && !shapes.some(({ name }) => path === `records/${name}.csv`),
  );
  if (unknown) return damaged(unknown.path);
  for (const [at, { path, sha256 }] of originals.entries()) {
    const brought = await bringOriginal(to.files, sha256 as Sha256, { stream: await archive.stream(path) });
    if (!brought.ok) return brought;
    told(at + 1, originals.length);
  }
  const brought = await bringRows(to, tables, shapes);
  return brought.ok
    ? done({ tables: shapes.length, rows: count(tables), originals: originals.length })
    : brought;
}

const damaged = (path: string) =>
  refused({
    why: 'damaged-backup',
    message: `“${path}” in the backup is not what its card says; use another backup.`,
  });
