import { readdir, readFile, realpath, stat } from 'node:fs/promises';
import { basename, extname, join, relative, sep } from 'node:path';
import {
  familyNamed,
  knownFamily,
  type RawSpectrum,
  type Reference,
  type Technique,
  type Told,
  understand,
} from '../../science/spectra/index.ts';
import { done, type Outcome, type Refusal, refused } from '../../units/index.ts';
import { shownName } from '../shown-name.ts';
import { keysOf, type ManifestEntry, readManifest } from './manifest.ts';
import { readSpectrumFile } from './read-spectrum-file.ts';

export interface ReadReferences {
  readonly references: readonly Reference[];
  /** Files that are no usable reference, each with its sentence. */
  readonly skipped: readonly { readonly name: string; readonly refusal: Refusal }[];
}

const SPECTRUM = /\.(jdx|dx|jcamp|jcm|csv|tsv|txt|dat|asc|dpt|xy|prn|spc|0)$/i;
const TABLE = /\.(csv|tsv|txt|json)$/i;
const MOST_FILES = 20_000;
/** Files that lie beside spectra and are none. */
const BESIDE = /(^|[\\/])(readme|sources?|licen[cs]e|manifest|labels?|metadata|index)\b[^\\/]*$/i;
/** A heading that may name a column of files; other tables are spectra and are not parsed for it. */
const NAMES_FILES = /(^|[^a-z])(file|path|spectrum|id|name|sample)/i;

/** A spectrum to be asked about: where it lies, and what it is called in the answer. */
export interface SpectrumPlace {
  readonly path: string;
  readonly name: string;
}

/**
 * What a path names: the file itself, or every file in a folder and the folders inside it that by its ending may hold a
 * spectrum, called by its place in the folder. Tables and texts beside them are passed over.
 */
export async function spectraAt(path: string): Promise<Outcome<readonly SpectrumPlace[]>> {
  const info = await stat(path).catch(() => null);
  if (!info?.isDirectory()) return done([{ path, name: basename(path) }]);
  const listed = await filesOf(path);
  if (!listed.ok) return listed;
  const { tables } = await manifestOf(path, listed.value);
  const inside = listed.value.filter(
    (file) => SPECTRUM.test(file) && !BESIDE.test(file) && !tables.has(file),
  );
  const found: SpectrumPlace[] = [];
  for (const file of inside) {
    if ((await stat(join(path, file))).isFile()) found.push({ path: join(path, file), name: file });
  }
  return found.length > 0
    ? done(found)
    : refused({
        why: 'no-spectra',
        message: `${shownName(path)} holds no file that may be a spectrum (JCAMP-DX, SPC or columns of numbers): name another folder, or the file itself.`,
      });
}

async function filesOf(folder: string): Promise<Outcome<string[]>> {
  let files: string[];
  try {
    if (!(await stat(folder)).isDirectory()) throw Object.assign(new Error(), { code: 'ENOTDIR' });
    files = (await readdir(folder, { recursive: true })).sort();
  } catch {
    return refused({
      why: 'no-folder',
      message: `${shownName(folder)} is not a folder that can be read: name the folder with the spectra.`,
    });
  }
  if (files.length > MOST_FILES) {
    return refused({
      why: 'too-many-files',
      message: `${shownName(folder)} holds ${files.length} files, more than ${MOST_FILES}: name the folder with the spectra alone.`,
    });
  }
  return done(files);
}

/**
 * Reference spectra of a folder and the folders inside it. A reference's material comes from a table beside the files
 * (a column of files, one of materials), else from the file's name, its title, the folders' names, in this order; where
 * none of them is a known name, from the folder's name or the file's without its running number.
 * `leaveOut` is a file that is asked about: it is no reference for itself.
 */
export async function readReferenceFolder(
  folder: string,
  leaveOut: readonly string[] = [],
): Promise<Outcome<ReadReferences>> {
  const listed = await filesOf(folder);
  if (!listed.ok) return listed;
  const files = listed.value;
  const manifest = await manifestOf(folder, files);
  const out = new Set(await Promise.all(leaveOut.map((path) => realpath(path).catch(() => path))));
  const references: Reference[] = [];
  const skipped: { name: string; refusal: Refusal }[] = [];
  for (const file of files) {
    if (!SPECTRUM.test(file) || BESIDE.test(file)) continue;
    const path = join(folder, file);
    if (!(await stat(path)).isFile() || manifest.tables.has(file) || out.has(await realpath(path))) continue;
    const entry = keysOf(file)
      .map((key) => manifest.entries.get(key))
      .find((e) => e !== undefined);
    const read = await readSpectrumFile(path);
    if (!read.ok) {
      skipped.push({ name: file, refusal: read.refusal });
      continue;
    }
    for (const raw of read.value) {
      const named = nameMaterial(file, folder, raw, read.value.length > 1, entry);
      const known = understand(withEntry(raw, entry), shownName(basename(file)), toldBy(entry));
      if (known.ok) {
        const name = read.value.length > 1 ? `${file}: ${raw.title}` : file;
        references.push({ name, ...named, spectrum: known.value, own: false });
      } else skipped.push({ name: file, refusal: known.refusal });
    }
  }
  return done({ references, skipped });
}

async function manifestOf(folder: string, files: readonly string[]) {
  const entries = new Map<string, ManifestEntry>();
  const tables = new Set<string>();
  const stems = new Set(files.flatMap((file) => keysOf(file)));
  for (const file of files) {
    // Tables lie at the top or beside the spectra, and are small; a spectrum has no column of file names.
    if (!TABLE.test(file) || file.split(sep).length > 3) continue;
    const path = join(folder, file);
    const info = await stat(path);
    if (!info.isFile() || info.size > 8e6) continue;
    const text = await readFile(path, 'utf8');
    const head = text.slice(0, 2000).split(/\r\n|\r|\n/)[0] ?? '';
    if (!/\.json$/i.test(file) && !NAMES_FILES.test(head)) continue;
    const found = readManifest(text, file);
    if (![...found.keys()].some((key) => stems.has(key))) continue;
    tables.add(file);
    for (const [key, entry] of found) if (!entries.has(key)) entries.set(key, entry);
  }
  return { entries, tables };
}

function nameMaterial(
  file: string,
  folder: string,
  raw: RawSpectrum,
  several: boolean,
  entry: ManifestEntry | undefined,
): { readonly material: string; readonly family: string } {
  if (entry !== undefined && (entry.material ?? entry.family) !== null) {
    const material = (entry.material ?? entry.family)!;
    const family = entry.family ?? familyNamed(material)?.family.family ?? material;
    return { material, family };
  }
  const parents = relative(folder, join(folder, file)).split(sep).slice(0, -1).reverse();
  const stem = basename(file, extname(file));
  const written = [
    ...(several ? [raw.title] : []),
    stem,
    ...(several ? [] : [raw.title]),
    ...parents,
    ...raw.remarks.slice(0, 12),
  ];
  for (const text of written) {
    const named = familyNamed(text);
    if (named) return { material: named.name, family: named.family.family };
  }
  const plain = several
    ? raw.title
    : (parents[0] ?? titleAsName(raw.title, file) ?? (stem.replace(/[\s_-]*[0-9]+[a-z]?$/i, '') || stem));
  return { material: plain, family: knownFamily(plain)?.family ?? plain };
}

/** A title that names something: words, and not the file's own name over again. */
function titleAsName(title: string, file: string): string | null {
  const plain = title.replace(/\(?\s*file:?.*$/i, '').trim();
  const own =
    keysOf(file).includes(plain.toLowerCase()) || plain.toLowerCase().includes(basename(file).toLowerCase());
  return !own &&
    plain.length <= 60 &&
    /[a-z]{3}/i.test(plain) &&
    !/^(sample|spectrum|scan|run)\b/i.test(plain)
    ? plain
    : null;
}

/** Units from the table only where the file is silent. */
const withEntry = (raw: RawSpectrum, entry: ManifestEntry | undefined): RawSpectrum =>
  entry === undefined ? raw : { ...raw, xUnit: raw.xUnit ?? entry.xUnit, yUnit: raw.yUnit ?? entry.yUnit };

function toldBy(entry: ManifestEntry | undefined): Told {
  const technique = techniqueNamed(entry?.technique ?? null);
  return {
    ...(technique === null ? {} : { technique }),
    ...(entry?.laserNm == null ? {} : { laserNm: entry.laserNm }),
  };
}

const techniqueNamed = (text: string | null): Technique | null =>
  text === null ? null : /raman/i.test(text) ? 'raman' : /ir\b|infra|atr/i.test(text) ? 'infrared' : null;
