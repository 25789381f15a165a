import { constants, crc32, deflateRawSync } from 'node:zlib';

/** Adler-32 (RFC 1950) of two pieces of data one after the other, from the sums of each. */
function adlerOfBoth(first: number, second: number, secondLength: number): number {
  const base = 65521;
  const rest = secondLength % base;
  const a = ((first & 0xffff) + (second & 0xffff) + base - 1) % base;
  const b = (rest * (first & 0xffff) + (first >>> 16) + (second >>> 16) + 2 * base - rest) % base;
  return ((b << 16) | a) >>> 0;
}

function adler(bytes: Uint8Array): number {
  let a = 1;
  let b = 0;
  for (const byte of bytes) {
    a = (a + byte) % 65521;
    b = (b + a) % 65521;
  }
  return ((b << 16) | a) >>> 0;
}

function chunk(kind: string, body: Buffer): Buffer {
  const head = Buffer.alloc(8);
  head.writeUInt32BE(body.length, 0);
  head.write(kind, 4, 'latin1');
  const tail = Buffer.alloc(4);
  tail.writeUInt32BE(checksum(Buffer.concat([head.subarray(4), body])), 0);
  return Buffer.concat([head, body, tail]);
}

/** CRC-32 (ISO 3309), table-free where the runtime has none of its own. */
function checksum(bytes: Buffer): number {
  if (typeof crc32 === 'function') return crc32(bytes);
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let k = 0; k < 8; k++) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0);
  }
  return (crc ^ 0xffffffff) >>> 0;
}

/**
 * A valid RGB PNG of any size in one colour, without holding it: a block of rows is packed once, ended on a byte
 * border, and repeated; the checksum of the whole follows from that of the block. `rows` fewer than the height leaves it short.
 */
export function oneColourPng(
  width: number,
  height: number,
  [r, g, b]: readonly [number, number, number],
  rows = height,
): Buffer {
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  header.set([8, 2, 0, 0, 0], 8);
  const parts = [Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]), chunk('IHDR', header)];
  if (rows === 0) return Buffer.concat(parts);
  let step = Math.min(rows, 60);
  while (rows % step) step--;
  const block = Buffer.alloc(step * (1 + 3 * width));
  for (let y = 0; y < step; y++) {
    for (let x = 0, at = y * (1 + 3 * width) + 1; x < width; x++, at += 3) block.set([r, g, b], at);
  }
  const packed = deflateRawSync(block, { finishFlush: constants.Z_FULL_FLUSH });
  const one = adler(block);
  let sum = 1;
  const data: Buffer[] = [Buffer.from([0x78, 0x01])];
  for (let i = 0; i < rows / step; i++) {
    data.push(packed);
    sum = adlerOfBoth(sum, one, block.length);
  }
  const end = Buffer.from([0x03, 0x00, 0, 0, 0, 0]);
  end.writeUInt32BE(sum, 2);
  data.push(end);
  return Buffer.concat([...parts, chunk('IDAT', Buffer.concat(data)), chunk('IEND', Buffer.alloc(0))]);
}
