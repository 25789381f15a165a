import type { Json, Sha256, StudyId } from '../../study/index.ts';
import { done, type Outcome, type Refusal, refused } from '../../units/index.ts';
import type { PhotoTakenIn, Tools } from '../ports.ts';
import type { ArchiveReader, Row, StudyRows, TableShape, Tables } from './archive-ports.ts';
import { belonging, SHARED } from './belonging.ts';
import { ARCHIVE_FORMAT, type ArchiveCard, CARD_PATH, claimsOf, hashesIn } from './pack-study.ts';
import { readCsv } from './safe-csv.ts';

export interface Unpacked {
  readonly study: string;
  readonly id: string;
  readonly rows: number;
  readonly originals: number;
  /** Whether the claims are word for word and digit for digit those of the packing. */
  readonly sameClaim: boolean;
  readonly packedBy: string;
}

type Unpacking = Pick<Tools, 'records' | 'files' | 'clock'> & { readonly rows: StudyRows };

const no = (why: string, message: string): { readonly ok: false; readonly refusal: Refusal } =>
  refused({ why, message });

/** Largest original that is taken in; photographs of whole filters fit many times over. */
const MOST_BYTES = 8 * 2 ** 30;

/**
 * Brings a packed study into a laboratory: everything is checked against the card before anything is kept, originals
 * come first and then all records at once. Refuses with one sentence and leaves the laboratory as it was.
 */
export async function unpackStudy(
  tools: Unpacking,
  archive: ArchiveReader,
  wish: { readonly as?: string; readonly told?: (done: number, of: number) => void } = {},
): Promise<Outcome<Unpacked>> {
  const card = await readCard(archive);
  if (!card.ok) return card;
  const listed = checkFiles(archive, card.value);
  if (!listed.ok) return listed;
  const shapes = await tools.rows.shapes();
  if (card.value.schema > (await tools.rows.schema())) {
    return no(
      'newer-archive',
      `The archive was packed by version ${card.value.version}, whose records (“${card.value.schema}”) are newer than this version knows: update Retentate to bring it in.`,
    );
  }
  const read = await readTables(archive, card.value, shapes);
  if (!read.ok) return read;
  const tables = new Map(read.value);
  const whole = checkRows(tables, card.value, shapes);
  if (!whole.ok) return whole;
  if (wish.as !== undefined) tables.set('study', [{ ...tables.get('study')![0]!, name: wish.as }]);
  const room = await roomFor(tools, tables);
  if (!room.ok) return room;
  const originals = await takeOriginals(tools, archive, card.value, tables, wish.told);
  if (!originals.ok) return originals;
  const keep = originals.value;
  for (const original of keep) await original.keep();
  const { owned } = belonging(shapes);
  const brought = await tools.rows.bringIn(tables, [...owned.keys()], SHARED);
  if (!brought.ok) return brought;
  const { id, name } = tables.get('study')![0]! as { id: StudyId; name: string };
  const claims = await claimsOf(tools, id);
  return done({
    study: name,
    id,
    rows: [...tables.values()].reduce((sum, list) => sum + list.length, 0),
    originals: keep.length,
    sameClaim: JSON.stringify(claims) === JSON.stringify(card.value.claims),
    packedBy: card.value.version,
  });
}

async function readCard(archive: ArchiveReader): Promise<Outcome<ArchiveCard>> {
  if (!archive.entries.some(({ path }) => path === CARD_PATH)) {
    return no(
      'not-a-study',
      `The archive has no ${CARD_PATH}: it was not packed by “retentate pack”. Ask for the file that pack wrote.`,
    );
  }
  const text = await archive.text(CARD_PATH);
  if (!text.ok) return text;
  let card: ArchiveCard;
  try {
    card = JSON.parse(text.value.text) as ArchiveCard;
  } catch {
    return no(
      'damaged-archive',
      `${CARD_PATH} in the archive cannot be read: take the archive from its source again.`,
    );
  }
  const sound =
    typeof card.version === 'string' &&
    typeof card.schema === 'string' &&
    typeof card.study?.id === 'string' &&
    Array.isArray(card.files) &&
    card.files.every(
      (f) => typeof f?.path === 'string' && typeof f.sha256 === 'string' && Number.isSafeInteger(f.bytes),
    );
  if (typeof card.format !== 'string' || !card.format.startsWith('retentate/study/') || !sound) {
    return no(
      'not-a-study',
      `${CARD_PATH} in the archive is no card of a study: ask for the file that “retentate pack” wrote.`,
    );
  }
  if (card.format !== ARCHIVE_FORMAT) {
    return no(
      'newer-archive',
      `The archive has the form ${card.format} and this version knows ${ARCHIVE_FORMAT}: update Retentate to bring it in.`,
    );
  }
  return done(card);
}

/** What the card lists and what the archive holds are the same, name by name and size by size. */
function checkFiles(archive: ArchiveReader, card: ArchiveCard): Outcome<void> {
  const there = new Map(archive.entries.map(({ path, bytes }) => [path, bytes]));
  const listed = new Set([CARD_PATH]);
  for (const { path, bytes } of card.files) {
    if (listed.has(path))
      return no(
        'damaged-archive',
        `The card of the archive lists “${path}” twice: take the archive from its source again.`,
      );
    listed.add(path);
    const size = there.get(path);
    if (size === undefined)
      return no(
        'file-missing',
        `The archive lacks “${path}”, which its card lists: take it from its source again.`,
      );
    if (size !== bytes)
      return no(
        'file-changed',
        `“${path}” in the archive has ${size} bytes where its card says ${bytes}: take it from its source again.`,
      );
  }
  const extra = [...there.keys()].find((path) => !listed.has(path));
  if (extra !== undefined)
    return no(
      'file-unlisted',
      `The archive holds “${extra.slice(0, 120)}”, which its card does not list: it was changed after packing. Take it from its source again.`,
    );
  return done(undefined);
}

const changed = (path: string) =>
  no(
    'file-changed',
    `“${path}” in the archive is not what was packed (its SHA-256 differs): take the archive from its source again.`,
  );

async function readTables(
  archive: ArchiveReader,
  card: ArchiveCard,
  shapes: readonly TableShape[],
): Promise<Outcome<Tables>> {
  const { owned } = belonging(shapes);
  const known = new Map(
    shapes.filter(({ name }) => owned.has(name) || SHARED.includes(name)).map((s) => [s.name, s]),
  );
  const tables = new Map<string, readonly Row[]>();
  for (const { path, sha256 } of card.files) {
    if (path.startsWith('originals/')) continue;
    const text = await archive.text(path);
    if (!text.ok) return text;
    if (text.value.sha256 !== sha256) return changed(path);
    const name = /^records\/([a-z_]+)\.csv$/.exec(path)?.[1];
    if (name === undefined) continue;
    const shape = known.get(name);
    if (!shape)
      return no(
        'unknown-table',
        `The archive holds records of “${name}”, which are not part of a study: take it from its source again.`,
      );
    const rows = readCsv(text.value.text, shape.columns, path);
    if (!rows.ok) return rows;
    if (rows.value.length !== card.rows?.[name])
      return no(
        'damaged-table',
        `${path} has ${rows.value.length} rows where the card says ${card.rows?.[name]}: take the archive from its source again.`,
      );
    tables.set(name, rows.value);
  }
  return done(tables);
}

/** One study, and every link of its rows stays within the archive. */
function checkRows(tables: Tables, card: ArchiveCard, shapes: readonly TableShape[]): Outcome<void> {
  const studies = tables.get('study') ?? [];
  if (studies.length !== 1 || studies[0]!.id !== card.study.id) {
    return no(
      'not-one-study',
      'The archive does not hold exactly the one study that its card names: take it from its source again.',
    );
  }
  const keys = new Map<string, Set<Json | undefined>>();
  for (const [name, rows] of tables) keys.set(name, new Set(rows.map(({ id }) => id)));
  for (const shape of shapes) {
    for (const { column, table } of shape.links) {
      for (const row of tables.get(shape.name) ?? []) {
        const value = row[column];
        if (value != null && !keys.get(table)?.has(value)) {
          return no(
            'loose-end',
            `A record of “${shape.name}” in the archive names a ${table} that is not in it (${String(value).slice(0, 40)}): take the archive from its source again.`,
          );
        }
      }
    }
  }
  const packed = new Set(
    card.files.flatMap(({ path, sha256 }) => (path.startsWith('originals/') ? [sha256] : [])),
  );
  const missing = hashesIn(tables).find((sha256) => !packed.has(sha256));
  return missing === undefined
    ? done(undefined)
    : no(
        'file-missing',
        `The archive lacks the original ${missing}, which its records name: take it from its source again.`,
      );
}

/** The study, its name and its photographs are not here yet. */
async function roomFor(tools: Unpacking, tables: Tables): Promise<Outcome<void>> {
  const { id, name } = tables.get('study')![0]!;
  const studies = await tools.records.look((look) => look.studies.list());
  const same = studies.find((study) => study.id === id);
  if (same)
    return no(
      'already-here',
      `The study “${same.name}” is in this laboratory already: open it here, or bring the archive into another laboratory.`,
    );
  if (studies.some((study) => study.name === name)) {
    return no(
      'name-taken',
      `There is another study “${name}” in this laboratory: bring it in under another name (--as NAME).`,
    );
  }
  const photos = new Set((tables.get('photo') ?? []).map(({ sha256 }) => sha256));
  for (const study of studies) {
    const there = (await tools.records.look((look) => look.photos.everOfStudy(study.id))).find(({ sha256 }) =>
      photos.has(sha256),
    );
    if (there)
      return no(
        'photo-taken',
        `The photograph “${there.name}” belongs to the study “${study.name}” here, and a photograph belongs to one filter: bring the archive into another laboratory.`,
      );
  }
  return done(undefined);
}

/** Every original, hashed while it is read; nothing is kept unless all are sound. */
async function takeOriginals(
  tools: Unpacking,
  archive: ArchiveReader,
  card: ArchiveCard,
  tables: Tables,
  told: ((done: number, of: number) => void) | undefined,
): Promise<Outcome<readonly PhotoTakenIn[]>> {
  const wanted = new Set<string>(hashesIn(tables));
  const files = card.files.filter(({ path }) => path.startsWith('originals/'));
  const taken: PhotoTakenIn[] = [];
  const giveUp = async <T>(refusal: T): Promise<T> => {
    for (const original of taken) await original.discard();
    return refusal;
  };
  try {
    for (const [at, { path, sha256 }] of files.entries()) {
      if (!wanted.has(sha256 as Sha256))
        return await giveUp(
          no('file-unlisted', `“${path}” in the archive belongs to no record: it was changed after packing.`),
        );
      const original = await tools.files.takeIn({ stream: await archive.stream(path) }, MOST_BYTES);
      if (!original.ok) return await giveUp(original);
      taken.push(original.value);
      if (original.value.sha256 !== sha256) return await giveUp(changed(path));
      told?.(at + 1, files.length);
    }
  } catch (failure) {
    await giveUp(null);
    throw failure;
  }
  return done(taken);
}
