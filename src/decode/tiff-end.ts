import type { Read } from './damage.ts';

/** Tags that say where the picture's data lies: strips or tiles, their offsets and their lengths in bytes. */
const OFFSETS = [273, 324];
const LENGTHS = [279, 325];
/** Bytes of one value, by TIFF's number for its type. */
const TYPE_BYTES: Readonly<Record<number, number>> = { 1: 1, 3: 2, 4: 4, 13: 4, 16: 8 };
const MOST_ENTRIES = 4096;
const MOST_PARTS = 4_000_000;

/**
 * How many bytes a TIFF (6.0 or BigTIFF) must have at least, by its first directory; Infinity where the directory itself is
 * beyond the end. Writers often put the directory last, so a file cut short usually lacks it.
 */
export async function tiffEnd(read: Read): Promise<number> {
  const head = await read(0, 16);
  if (head.length < 16) return Number.POSITIVE_INFINITY;
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
  if (counted.length < countBytes) return Number.POSITIVE_INFINITY;
  const entries = Math.min(number(counted, 0, countBytes), MOST_ENTRIES);
  const table = await read(directory + countBytes, entries * entryBytes);
  if (table.length < entries * entryBytes) return Number.POSITIVE_INFINITY;

  const values = async (tags: readonly number[]): Promise<number[] | null> => {
    for (let at = 0; at < table.length; at += entryBytes) {
      if (!tags.includes(number(table, at, 2))) continue;
      const size = TYPE_BYTES[number(table, at + 2, 2)] ?? 4;
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
  const offsets = await values(OFFSETS);
  const lengths = await values(LENGTHS);
  if (!offsets || !lengths) return Number.POSITIVE_INFINITY;
  return offsets.reduce((end, offset, i) => Math.max(end, offset + (lengths[i] ?? 0)), 0);
}
