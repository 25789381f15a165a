import type { Read } from './damage.ts';

/** Tags that say where the picture's data lies: strips or tiles, their offsets and their lengths in bytes. */
const OFFSETS = [273, 324];
const LENGTHS = [279, 325];
/** Bytes of one value, by TIFF's number for its type (TIFF 6.0 section 2; 13 and 16 to 18 are those of BigTIFF). */
const TYPE_BYTES: readonly number[] = [0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8, 4, 0, 0, 8, 8, 8];
const MOST_ENTRIES = 4096;
const MOST_PARTS = 4_000_000;

interface Directory {
  /** Values of the first of some tags that it has; empty where it has none, null where they lie beyond the end. */
  values(tags: readonly number[]): Promise<number[] | null>;
  /** Where the farthest list that an entry points to ends. */
  readonly end: number;
}

/** The first directory of a TIFF (6.0 or BigTIFF); null where it lies beyond the file's end. */
export async function firstDirectory(read: Read): Promise<Directory | null> {
  const head = await read(0, 16);
  if (head.length < 16) return null;
  const little = head[0] === 0x49;
  const number = (bytes: Buffer, at: number, size: number): number => {
    if (size === 1) return bytes.readUInt8(at);
    if (size === 2) return little ? bytes.readUInt16LE(at) : bytes.readUInt16BE(at);
    if (size === 4) return little ? bytes.readUInt32LE(at) : bytes.readUInt32BE(at);
    return Number(little ? bytes.readBigUInt64LE(at) : bytes.readBigUInt64BE(at));
  };
  const word = number(head, 2, 2) === 43 ? 8 : 4;
  const countBytes = word === 8 ? 8 : 2;
  const entryBytes = word === 8 ? 20 : 12;
  const directory = number(head, word === 8 ? 8 : 4, word);
  const counted = await read(directory, countBytes);
  if (counted.length < countBytes) return null;
  const entries = Math.min(number(counted, 0, countBytes), MOST_ENTRIES);
  const table = await read(directory + countBytes, entries * entryBytes);
  if (table.length < entries * entryBytes) return null;

  let end = 0;
  for (let at = 0; at < table.length; at += entryBytes) {
    const bytes = (TYPE_BYTES[number(table, at + 2, 2)] ?? 0) * number(table, at + 4, word);
    if (bytes > word) end = Math.max(end, number(table, at + 4 + word, word) + bytes);
  }
  const values: Directory['values'] = async (tags) => {
    for (let at = 0; at < table.length; at += entryBytes) {
      if (!tags.includes(number(table, at, 2))) continue;
      const size = TYPE_BYTES[number(table, at + 2, 2)] || 4;
      const count = Math.min(number(table, at + 4, word), MOST_PARTS);
      const inline = at + 4 + word;
      const list =
        size * count <= word
          ? table.subarray(inline, inline + size * count)
          : await read(number(table, inline, word), size * count);
      if (list.length < size * count) return null;
      return Array.from({ length: count }, (_, i) => number(list, i * size, size));
    }
    return [];
  };
  return { values, end };
}

/**
 * How many bytes a TIFF must have at least, by its first directory; Infinity where the directory itself is beyond the end.
 * Writers often put the directory last, so a file cut short usually lacks it.
 */
export async function tiffEnd(read: Read): Promise<number> {
  const directory = await firstDirectory(read);
  if (!directory) return Number.POSITIVE_INFINITY;
  const offsets = await directory.values(OFFSETS);
  const lengths = await directory.values(LENGTHS);
  if (!offsets || !lengths) return Number.POSITIVE_INFINITY;
  return offsets.reduce((end, offset, i) => Math.max(end, offset + (lengths[i] ?? 0)), directory.end);
}
