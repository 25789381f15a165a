import Papa from 'papaparse';

/** What a table beside the references says of one file. */
export interface ManifestEntry {
  readonly material: string | null;
  readonly family: string | null;
  readonly technique: string | null;
  readonly xUnit: string | null;
  readonly yUnit: string | null;
  readonly laserNm: number | null;
}

const FILE = /^(file|file[_ ]?name|path|spectrum[_ ]?file|spectrum|filename)$/i;
const MATERIAL =
  /^(material|polymer|substance|identity|spectrum[_ ]?identity|material[_ ]?name|polymer[_ ]?name|compound|plastic|label|name|class|type)$/i;
const FAMILY =
  /^(family|material[_ ]?family|polymer[_ ]?family|material[_ ]?class|polymer[_ ]?class|polymer[_ ]?type)$/i;

/** Entries by file name (as written, and by its last part), from a table with a column of files and one of materials. */
export function readManifest(text: string, name: string): Map<string, ManifestEntry> {
  const entries = new Map<string, ManifestEntry>();
  for (const row of rowsOf(text, name)) {
    const keys = Object.keys(row);
    const pick = (pattern: RegExp, not?: string) =>
      keys.find((key) => pattern.test(key.trim()) && key !== not);
    const fileKey = pick(FILE) ?? pick(/^(id|name|sample)$/i);
    if (fileKey === undefined) continue;
    const file = said(row[fileKey]);
    // The most telling column wins: material before polymer before label …
    const materialKey =
      MATERIAL_ORDER.map((word) =>
        keys.find((key) => key.trim().toLowerCase().replace(/[_ ]/g, '') === word && key !== fileKey),
      ).find((key) => key !== undefined) ?? pick(MATERIAL, fileKey);
    const familyKey = pick(FAMILY, fileKey);
    const material = materialKey === undefined ? null : said(row[materialKey]);
    const family = familyKey === undefined ? null : said(row[familyKey]);
    if (file === null || (material === null && family === null)) continue;
    const other = (pattern: RegExp) => {
      const key = pick(pattern);
      return key === undefined ? null : said(row[key]);
    };
    const laser = Number.parseFloat(other(/^laser/i) ?? '');
    const entry: ManifestEntry = {
      material,
      family: familyKey !== materialKey ? family : null,
      technique: other(/^(technique|method|spectrum[_ ]?type|modality)$/i),
      xUnit: other(/^x[_ ]?units?$/i),
      yUnit: other(/^(y[_ ]?units?|intensity[_ ]?units?)$/i),
      laserNm: laser > 200 && laser < 2000 ? laser : null,
    };
    for (const key of keysOf(file)) if (!entries.has(key)) entries.set(key, entry);
  }
  return entries;
}

const MATERIAL_ORDER = [
  'material',
  'polymer',
  'substance',
  'identity',
  'spectrumidentity',
  'materialname',
  'polymername',
  'plastic',
  'compound',
  'label',
];

/** A file's names in a manifest: its path, its last part, and both without the ending. */
export function keysOf(path: string): string[] {
  const plain = path.replaceAll('\\', '/').replace(/^\.\//, '').toLowerCase();
  const last = plain.split('/').at(-1)!;
  const bare = (name: string) => name.replace(/\.[a-z0-9]{1,5}$/, '');
  return [...new Set([plain, last, bare(plain), bare(last)])];
}

function rowsOf(text: string, name: string): Record<string, unknown>[] {
  if (/\.json$/i.test(name)) {
    try {
      const read: unknown = JSON.parse(text);
      const list = Array.isArray(read)
        ? read
        : read !== null && typeof read === 'object'
          ? listInside(read)
          : [];
      return list.filter((row): row is Record<string, unknown> => row !== null && typeof row === 'object');
    } catch {
      return [];
    }
  }
  const { data } = Papa.parse<Record<string, unknown>>(text.replace(/^\uFEFF/, ''), {
    header: true,
    skipEmptyLines: true,
  });
  return data;
}

/** `{ "spectra": [ … ] }`, or one entry a file: `{ "a.csv": { … } }` or `{ "a.csv": "PE" }`. */
function listInside(read: object): unknown[] {
  const list = Object.values(read).find(Array.isArray);
  if (list) return list;
  return Object.entries(read).map(([file, value]) =>
    typeof value === 'string' ? { file, material: value } : { file, ...(value as object) },
  );
}

const said = (value: unknown): string | null => {
  const text = typeof value === 'string' ? value.trim() : typeof value === 'number' ? String(value) : '';
  return text === '' || /^(na|n\/a|null|none|unknown|\?)$/i.test(text) ? null : text;
};
