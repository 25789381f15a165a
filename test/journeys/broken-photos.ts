/** Files that are no sound photographs, made here byte by byte: each with the refusal it deserves. */
import { deflateSync } from 'node:zlib';
import sharp from 'sharp';

export interface BrokenPhoto {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly why: string;
  /** Words that the sentence must hold besides the name. */
  readonly says: RegExp;
}

/** A pale picture with some dark dots; any photograph will do where only the reading is tested. */
export function dots(width: number, height: number, channels: 1 | 3 = 3): Buffer {
  const data = Buffer.alloc(width * height * channels, 225);
  for (let n = 0; n < 40; n++) {
    const [cx, cy] = [(n * 7919) % width, (n * 104_729) % height];
    for (let y = Math.max(0, cy - 4); y < Math.min(height, cy + 5); y++) {
      for (let x = Math.max(0, cx - 4); x < Math.min(width, cx + 5); x++) {
        for (let c = 0; c < channels; c++) data[(y * width + x) * channels + c] = 30 + 60 * c;
      }
    }
  }
  return data;
}

export const drawn = (width = 400, height = 300, channels: 1 | 3 = 3) =>
  sharp(dots(width, height, channels), { raw: { width, height, channels } });

const CRC = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let i = 0; i < 8; i++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c;
});
function chunk(kind: string, data: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(kind, 'latin1'), data]);
  let crc = -1;
  for (const b of body) crc = CRC[(crc ^ b) & 255]! ^ (crc >>> 8);
  const out = Buffer.alloc(body.length + 8);
  out.writeUInt32BE(data.length, 0);
  body.copy(out, 4);
  out.writeInt32BE(~crc, body.length + 4);
  return out;
}

/** A sound one-colour PNG (1 bit a pixel) of any size: 60,000 × 60,000 takes half a megabyte. */
export function oneColourPng(width: number, height: number): Buffer {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head.set([1, 0, 0, 0, 0], 8);
  const rows = deflateSync(Buffer.alloc((Math.ceil(width / 8) + 1) * height), { level: 9 });
  const signature = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  return Buffer.concat([signature, chunk('IHDR', head), chunk('IDAT', rows), chunk('IEND', Buffer.alloc(0))]);
}

/** Uncompressed TIFF with its directory at the start, one strip a row block, as many programs write it. */
export function plainTiff(
  width: number,
  height: number,
  channels: 1 | 3,
  bits: 8 | 16,
  data: Uint8Array,
  rowsPerStrip = 16,
): Buffer {
  const strips = Math.ceil(height / rowsPerStrip);
  const rowBytes = (width * channels * bits) / 8;
  const entries = 10;
  const lists = 8 + 2 + entries * 12 + 4;
  const bitsAt = lists + strips * 8;
  const dataAt = bitsAt + 8;
  const out = Buffer.alloc(dataAt + height * rowBytes);
  out.write('II', 0, 'latin1');
  out.writeUInt16LE(42, 2);
  out.writeUInt32LE(8, 4);
  out.writeUInt16LE(entries, 8);
  let at = 10;
  const entry = (tag: number, type: 3 | 4, count: number, value: number): void => {
    out.writeUInt16LE(tag, at);
    out.writeUInt16LE(type, at + 2);
    out.writeUInt32LE(count, at + 4);
    if (type === 3 && count === 1) out.writeUInt16LE(value, at + 8);
    else out.writeUInt32LE(value, at + 8);
    at += 12;
  };
  entry(256, 4, 1, width);
  entry(257, 4, 1, height);
  if (channels === 3) entry(258, 3, 3, bitsAt);
  else entry(258, 3, 1, bits);
  entry(259, 3, 1, 1);
  entry(262, 3, 1, channels === 3 ? 2 : 1);
  entry(273, 4, strips, strips === 1 ? dataAt : lists);
  entry(277, 3, 1, channels);
  entry(278, 4, 1, rowsPerStrip);
  entry(279, 4, strips, strips === 1 ? height * rowBytes : lists + strips * 4);
  entry(284, 3, 1, 1);
  for (let s = 0; s < strips; s++) {
    const rows = Math.min(rowsPerStrip, height - s * rowsPerStrip);
    out.writeUInt32LE(dataAt + s * rowsPerStrip * rowBytes, lists + s * 4);
    out.writeUInt32LE(rows * rowBytes, lists + strips * 4 + s * 4);
  }
  for (let c = 0; c < 3; c++) out.writeUInt16LE(bits, bitsAt + c * 2);
  out.set(data, dataAt);
  return out;
}

const flipped = (bytes: Buffer, at: number): Buffer => {
  const copy = Buffer.from(bytes);
  copy[at] = copy[at]! ^ 0xff;
  return copy;
};
const part = (bytes: Buffer, share: number): Buffer => bytes.subarray(0, Math.floor(bytes.length * share));

/** Every kind of bad file in the issue on bad input, with sound names. */
export async function brokenPhotos(): Promise<readonly BrokenPhoto[]> {
  const jpeg = await drawn().jpeg().toBuffer();
  const png = await drawn().png().toBuffer();
  const tiff = await drawn().tiff({ compression: 'lzw' }).toBuffer();
  const plain = plainTiff(400, 300, 3, 8, dots(400, 300));
  const idat = png.indexOf('IDAT', 0, 'latin1');
  const idatEnd = idat + 4 + png.readUInt32BE(idat - 4);
  return [
    { name: 'truncated.jpg', bytes: part(jpeg, 0.6), why: 'cut-short', says: /cut short/ },
    { name: 'empty.jpg', bytes: Buffer.alloc(0), why: 'empty-file', says: /empty/ },
    {
      name: 'text.jpg',
      bytes: Buffer.from('Dear diary,\nno photo.\n'),
      why: 'not-a-photo',
      says: /plain text/,
    },
    {
      name: 'drawing.svg',
      bytes: Buffer.from(
        '<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>',
      ),
      why: 'not-a-photo',
      says: /SVG/,
    },
    { name: 'paper.png', bytes: Buffer.from('%PDF-1.7\n%âãÏÓ\n1 0 obj\n'), why: 'not-a-photo', says: /PDF/ },
    {
      name: 'huge.png',
      bytes: oneColourPng(60_000, 60_000),
      why: 'too-many-pixels',
      says: /60,000 × 60,000/,
    },
    { name: 'one.png', bytes: oneColourPng(1, 1), why: 'too-small', says: /1 × 1 pixel,/ },
    { name: 'crc.png', bytes: flipped(png, idatEnd + 2), why: 'damaged', says: /checksum/ },
    { name: 'head-crc.png', bytes: flipped(png, 30), why: 'damaged', says: /checksum/ },
    { name: 'data.png', bytes: flipped(png, idat + 40), why: 'damaged', says: /checksum/ },
    { name: 'short.png', bytes: part(png, 0.5), why: 'cut-short', says: /cut short/ },
    { name: 'mosaic.tif', bytes: part(plain, 0.5), why: 'cut-short', says: /cut short/ },
    { name: 'mosaic-end.tif', bytes: part(tiff, 0.5), why: 'cut-short', says: /cut short/ },
    { name: 'head-only.tif', bytes: part(plain, 0.00002), why: 'cut-short', says: /cut short/ },
    {
      name: 'noise.jpg',
      bytes: Buffer.from([0xff, 0xd8, 0xff, 0xe0, 1, 2, 3]),
      why: 'cut-short',
      says: /cut short/,
    },
  ];
}

/** Names that a file may bear and that must neither lead astray nor break a line. */
export const ODD_NAMES = [
  '-rf.jpg',
  'Probe Ähre 粒子 🧪.jpg',
  'two\nlines.jpg',
  '<b>bold.jpg',
  'a;b $(x) `y`.jpg',
] as const;
