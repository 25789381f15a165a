/** A tiled TIFF 6.0 written tile by tile, each tile a JPEG of its own (compression 7), so that no picture is ever held whole. */
import { closeSync, openSync, writeSync } from 'node:fs';

export interface TiffWriter {
  /** Tiles come row by row from the top left; each is a complete baseline JPEG of the tile's size, YCbCr 4:2:0. */
  add(jpeg: Uint8Array): void;
  close(): void;
}

export function tiffOfTiles(path: string, width: number, height: number, tile: number): TiffWriter {
  if (tile % 16) throw new RangeError(`tile: a multiple of 16 px is needed, given ${tile}`);
  const tiles = Math.ceil(width / tile) * Math.ceil(height / tile);
  const file = openSync(path, 'w');
  const offsets: number[] = [];
  const sizes: number[] = [];
  let at = 8;
  writeSync(file, Buffer.alloc(8), 0, 8, 0);
  return {
    add(jpeg) {
      if (at + jpeg.length > 4_200_000_000)
        throw new RangeError(`TIFF: at most 4.2 GB, given more for ${path}`);
      writeSync(file, jpeg, 0, jpeg.length, at);
      offsets.push(at);
      sizes.push(jpeg.length);
      at += jpeg.length + (jpeg.length & 1);
    },
    close() {
      if (offsets.length !== tiles)
        throw new RangeError(`TIFF: ${tiles} tiles are needed, given ${offsets.length}`);
      const list = (values: readonly number[]): number => {
        const bytes = Buffer.alloc(4 * values.length);
        values.forEach((v, i) => {
          bytes.writeUInt32LE(v, 4 * i);
        });
        writeSync(file, bytes, 0, bytes.length, at);
        at += bytes.length;
        return at - bytes.length;
      };
      const offsetsAt = list(offsets);
      const sizesAt = list(sizes);
      const bits = Buffer.from([8, 0, 8, 0, 8, 0]);
      writeSync(file, bits, 0, 6, at);
      const bitsAt = at;
      at += 6;
      // Tag, type (3 short, 4 long), count, value.
      const entries: [number, number, number, number][] = [
        [256, 4, 1, width],
        [257, 4, 1, height],
        [258, 3, 3, bitsAt],
        [259, 3, 1, 7],
        [262, 3, 1, 6],
        [277, 3, 1, 3],
        [284, 3, 1, 1],
        [322, 4, 1, tile],
        [323, 4, 1, tile],
        [324, 4, tiles, tiles === 1 ? offsets[0]! : offsetsAt],
        [325, 4, tiles, tiles === 1 ? sizes[0]! : sizesAt],
        [530, 3, 2, 2 | (2 << 16)],
      ];
      const directory = Buffer.alloc(2 + 12 * entries.length + 4);
      directory.writeUInt16LE(entries.length, 0);
      entries.forEach(([tag, type, count, value], i) => {
        directory.writeUInt16LE(tag, 2 + 12 * i);
        directory.writeUInt16LE(type, 4 + 12 * i);
        directory.writeUInt32LE(count, 6 + 12 * i);
        directory.writeUInt32LE(value, 10 + 12 * i);
      });
      writeSync(file, directory, 0, directory.length, at);
      const header = Buffer.from([0x49, 0x49, 42, 0, 0, 0, 0, 0]);
      header.writeUInt32LE(at, 4);
      writeSync(file, header, 0, 8, 0);
      closeSync(file);
    },
  };
}
