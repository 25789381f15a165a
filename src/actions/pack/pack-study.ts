import { claimJson } from '../../api/index.ts';
import type { Id, Json, Sha256, StudyId } from '../../study/index.ts';
import { done, type Outcome, refused } from '../../units/index.ts';
import type { Tools } from '../ports.ts';
import { standing } from '../standing.ts';
import type { ArchiveWriter, Row, RowsWanted, StudyRows, TableShape, Tables } from './archive-ports.ts';
import { belonging, SHARED } from './belonging.ts';
import { crate, dataPackage, outlines, type PackedFile, provenance } from './describe.ts';
import { writeCsv } from './safe-csv.ts';
import { type SealedRound, withoutSealedKeys } from './sealed-rounds.ts';

export const ARCHIVE_FORMAT = 'retentate/study/1';
export const CARD_PATH = 'retentate.json';

/** The card of an archive: what it holds, to the byte. */
export interface ArchiveCard {
  readonly format: string;
  readonly version: string;
  readonly schema: string;
  readonly packed_at: string;
  readonly study: { readonly id: string; readonly name: string };
  readonly rows: Readonly<Record<string, number>>;
  /** Claims at packing, for comparison after unpacking: one a specimen. */
  readonly claims: Json;
  /** Rounds whose key, seed and readings stayed behind because they were sealed; absent in archives of before. */
  readonly sealed?: readonly SealedRound[];
  readonly files: readonly PackedFile[];
}

export interface Packed {
  readonly study: string;
  readonly tables: number;
  readonly rows: number;
  readonly originals: number;
  readonly files: number;
  /** Names of rounds that are sealed: their key stayed behind. */
  readonly sealed: readonly string[];
}

type Packing = Pick<Tools, 'records' | 'files' | 'clock'> & { readonly rows: StudyRows };

/** Rows that a study owns and those of shared tables that they name. */
export async function rowsOfStudy(
  rows: StudyRows,
  study: StudyId,
): Promise<{ readonly tables: Tables; readonly shapes: readonly TableShape[] }> {
  const shapes = await rows.shapes();
  const { owned, lost } = belonging(shapes);
  if (lost.length > 0)
    throw new RangeError(`tables that lead to no study and are in no list: ${lost.join(', ')}`);
  const wanted: { name: string; where: RowsWanted }[] = [...orderOfReading(owned)].map(([name, link]) => ({
    name,
    where:
      link === null
        ? { column: 'id', is: study as Id<'study'> }
        : link.table === 'study'
          ? { column: link.column, is: study as Id<'study'> }
          : { column: link.column, among: { table: link.table, column: 'id' } },
  }));
  const collected = new Map(
    await rows.collect([...SHARED.map((name) => ({ name, where: { all: true } as const })), ...wanted]),
  );
  narrowShared(collected, shapes);
  const carried = new Set([...SHARED, ...owned.keys()]);
  return { tables: collected, shapes: shapes.filter(({ name }) => carried.has(name)) };
}

/** A table is read after the one that leads it to the study; the order of writing may be another. */
function orderOfReading(
  owned: ReadonlyMap<string, { readonly table: string; readonly column: string } | null>,
) {
  const read = new Map<string, { readonly table: string; readonly column: string } | null>();
  while (read.size < owned.size) {
    for (const [name, link] of owned) if (link === null || read.has(link.table)) read.set(name, link);
  }
  return read;
}

/** Of the shared tables only what the study's rows name: kinds of step by name, then people. */
function narrowShared(tables: Map<string, readonly Row[]>, shapes: readonly TableShape[]): void {
  const written = JSON.stringify([
    ...(tables.get('edition') ?? []),
    ...(tables.get('deviation') ?? []),
    ...(tables.get('bench_tap') ?? []),
  ]);
  tables.set(
    'step_kind',
    (tables.get('step_kind') ?? []).filter(({ kind }) => written.includes(JSON.stringify(kind))),
  );
  const named = new Set<Json>();
  for (const shape of shapes) {
    if (shape.name === 'person') continue;
    const columns = shape.links.filter(({ table }) => table === 'person').map(({ column }) => column);
    for (const row of tables.get(shape.name) ?? []) {
      for (const column of columns) if (row[column] != null) named.add(row[column]);
      // Lists of people have no link that the schema could show.
      for (const value of Object.values(row))
        if (Array.isArray(value)) for (const id of value) if (typeof id === 'string') named.add(id);
    }
  }
  tables.set(
    'person',
    (tables.get('person') ?? []).filter(({ id }) => named.has(id!)),
  );
}

/** Hashes of originals that rows name: every column called sha256. */
export const hashesIn = (tables: Tables): Sha256[] => [
  ...new Set(
    [...tables.values()]
      .flat()
      .flatMap((row) => (typeof row.sha256 === 'string' ? [row.sha256 as Sha256] : [])),
  ),
];

/** Claims of a study as they travel, one a specimen. */
export async function claimsOf(tools: Pick<Tools, 'records' | 'clock'>, study: string): Promise<Json> {
  const stands = await standing(tools as Tools, { study });
  if (!stands.ok) return [];
  return JSON.parse(
    JSON.stringify(
      stands.value.specimens.map((one) => ({
        specimen: one.specimen.name,
        claim: claimJson(one.claim, one.judged.ok ? one.judged.value : null),
      })),
    ),
  ) as Json;
}

/** Packs a study into an archive that explains itself: records, originals to the byte, outlines, provenance. Sealed keys stay behind. */
export async function packStudy(
  tools: Packing,
  writer: ArchiveWriter,
  wish: {
    readonly study: string;
    readonly version: string;
    readonly told?: (done: number, of: number) => void;
  },
): Promise<Outcome<Packed>> {
  const study = await findStudy(tools, wish.study);
  if (!study.ok) {
    await writer.abandon();
    return study;
  }
  try {
    const all = await rowsOfStudy(tools.rows, study.value.id);
    const { shapes } = all;
    const { tables, sealed } = withoutSealedKeys(all.tables);
    const files: PackedFile[] = [];
    const add = async (path: string, text: string): Promise<void> => {
      files.push({ path, ...(await writer.addText(path, text)) });
    };
    const ending = endings(tables);
    const originalPath = (sha256: string): string => `originals/${sha256}${ending.get(sha256) ?? ''}`;
    const hashes = hashesIn(tables);
    for (const [at, sha256] of hashes.entries()) {
      const state = await tools.files.verify(sha256);
      if (state !== 'sound') {
        await writer.abandon();
        return refused({
          why: `original-${state}`,
          message: `The original ${sha256} is ${state}: put it back from your backup before you pack; “retentate check” lists all such.`,
        });
      }
      const bytes = bytesOf(tables, sha256);
      await tools.files.withFile(sha256, (path) => writer.addFile(originalPath(sha256), path));
      files.push({ path: originalPath(sha256), bytes, sha256 });
      wish.told?.(at + 1, hashes.length);
    }
    for (const shape of shapes)
      await add(`records/${shape.name}.csv`, writeCsv(shape.columns, tables.get(shape.name) ?? []));
    const byPhoto = new Map<Json | undefined, Row[]>();
    for (const row of tables.get('particle') ?? []) {
      const before = byPhoto.get(row.photo);
      if (before) before.push(row);
      else byPhoto.set(row.photo, [row]);
    }
    for (const photo of tables.get('photo') ?? []) {
      await add(`outlines/${photo.id}.geojson`, outlines(photo, byPhoto.get(photo.id!) ?? []));
    }
    await add('provenance.jsonld', provenance(tables, originalPath));
    const title = study.value.name;
    await add('datapackage.json', dataPackage(study.value.id, title, shapes));
    const at = tools.clock.now();
    await add(
      'ro-crate-metadata.json',
      crate({ title, description: DESCRIPTION, version: wish.version, at, files, tables }),
    );
    const card: ArchiveCard = {
      format: ARCHIVE_FORMAT,
      version: wish.version,
      schema: await tools.rows.schema(),
      packed_at: at,
      study: { id: study.value.id, name: title },
      rows: Object.fromEntries(shapes.map(({ name }) => [name, tables.get(name)?.length ?? 0])),
      claims: await claimsOf(tools, study.value.id),
      sealed,
      files,
    };
    await writer.addText(CARD_PATH, `${JSON.stringify(card, null, 1)}\n`);
    await writer.end();
    const rows = [...tables.values()].reduce((sum, list) => sum + list.length, 0);
    return done({
      study: title,
      tables: shapes.length,
      rows,
      originals: hashes.length,
      files: files.length + 1,
      sealed: sealed.map(({ name }) => name),
    });
  } catch (failure) {
    await writer.abandon();
    throw failure;
  }
}

const DESCRIPTION =
  'A study of particles shed by a product: question, procedures, runs and controls, photographs, particles with outlines, marks, evidence and claims. Records are tables (datapackage.json); retentate.json lists every file with its hash.';

async function findStudy({ records }: Packing, wanted: string) {
  const studies = await records.look((look) => look.studies.list());
  const found = studies.find(({ id, name }) => id === wanted || name === wanted);
  if (found) return done(found);
  const names = studies.map(({ name }) => `“${name}”`).join(', ');
  return refused({
    why: 'no-such-study',
    message: `There is no study “${wanted}” here${names ? `; there is ${names}` : ''}.`,
  });
}

/** An original keeps a familiar ending, so that a stranger can open it. */
function endings(tables: Tables): Map<string, string> {
  const found = new Map<string, string>();
  for (const row of [...tables.values()].flat()) {
    if (typeof row.sha256 !== 'string') continue;
    const ending = /\.[A-Za-z0-9]{1,5}$/
      .exec(typeof row.name === 'string' ? row.name : '')?.[0]
      .toLowerCase();
    if (ending) found.set(row.sha256, ending);
  }
  return found;
}

const bytesOf = (tables: Tables, sha256: string): number =>
  Number([...tables.values()].flat().find((row) => row.sha256 === sha256)?.bytes ?? 0);
