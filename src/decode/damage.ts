import { type FileHandle, open } from 'node:fs/promises';
import { type PhotoRefusal, refusePhoto } from './photo-refusal.ts';
import { tiffEnd } from './tiff-end.ts';

type Refused = { readonly ok: false; readonly refusal: PhotoRefusal };

/**
 * Says in what way a photograph that no decoder could read is broken. Called on failure only, reads little.
 * Cut short: the end marker of its format is missing or the data that it points to lies beyond its end.
 */
export async function diagnose(
  path: string,
  name: string,
  format: 'jpeg' | 'png' | 'tiff',
  bytes: number,
): Promise<Refused> {
  const file = await open(path, 'r');
  try {
    const read = fileReader(file, bytes);
    if (format === 'png') return await brokenPng(read, name, bytes);
    if (format === 'jpeg') {
      // Cameras may put other data after the end marker, so its last 64 KiB are looked through.
      const tail = await read(Math.max(0, bytes - 65_536), 65_536);
      return tail.lastIndexOf(Buffer.from([0xff, 0xd9])) < 0
        ? refusePhoto('cut-short', name)
        : refusePhoto('damaged', name, 'its picture data cannot be read');
    }
    return (await tiffEnd(read)) > bytes
      ? refusePhoto('cut-short', name)
      : refusePhoto('damaged', name, 'its picture data is incomplete or cannot be read');
  } finally {
    await file.close();
  }
}

/** Whether a TIFF ends before the pixels that its directory points to. Reads little: asked before a mosaic is unpacked. */
export async function endsTooSoon(path: string, bytes: number): Promise<boolean> {
  const file = await open(path, 'r');
  try {
    return (await tiffEnd(fileReader(file, bytes))) > bytes;
  } finally {
    await file.close();
  }
}

const fileReader =
  (file: FileHandle, bytes: number): Read =>
  async (at, length) => {
    const into = Buffer.alloc(Math.max(0, Math.min(length, bytes - at)));
    const { bytesRead } = await file.read(into, 0, into.length, at);
    return into.subarray(0, bytesRead);
  };

/** Bytes of a file from `at`; fewer than asked for where the file ends. */
export type Read = (at: number, length: number) => Promise<Buffer>;

/** PNG (ISO/IEC 15948): chunks of length, name, data and a CRC-32 over name and data; the last is IEND. */
async function brokenPng(read: Read, name: string, bytes: number): Promise<Refused> {
  for (let at = 8; at + 12 <= bytes; ) {
    const head = await read(at, 8);
    const length = head.readUInt32BE(0);
    const kind = head.toString('latin1', 4, 8);
    if (at + 12 + length > bytes) return refusePhoto('cut-short', name);
    let crc = crc32(head.subarray(4), 0);
    for (let from = 0; from < length; from += CRC_PART) {
      crc = crc32(await read(at + 8 + from, Math.min(CRC_PART, length - from)), crc);
    }
    const stored = (await read(at + 8 + length, 4)).readUInt32BE(0);
    if (crc !== stored) {
      const where = /^[A-Za-z]{4}$/.test(kind) ? `its part “${kind}” at byte ${at}` : `a part at byte ${at}`;
      return refusePhoto('damaged', name, `${where} does not match its checksum`);
    }
    if (kind === 'IEND') return refusePhoto('damaged', name, 'its picture data cannot be read');
    at += 12 + length;
  }
  return refusePhoto('cut-short', name);
}
const CRC_PART = 1 << 20;

const CRC_TABLE = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let bit = 0; bit < 8; bit++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c >>> 0;
});

/** CRC-32 of ISO 3309 as PNG uses it; hand the last value in to go on. */
export function crc32(bytes: Uint8Array, before: number): number {
  let c = ~before >>> 0;
  for (const byte of bytes) c = CRC_TABLE[(c ^ byte) & 255]! ^ (c >>> 8);
  return ~c >>> 0;
}
