/**
 * Files that a person may bring in by mistake or malice, written on demand. Each says what is wrong with it and
 * whether it ought to be read all the same.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp, { type Sharp } from 'sharp';
import { drawPhotograph } from '../../demo/drawing/photograph.ts';
import { recipeFor } from '../../demo/photographs/recipe.ts';
import { oneColourPng } from './one-colour-png.ts';

export interface OddFile {
  readonly name: string;
  readonly path: string;
  readonly what: string;
  /** `refused`: one clear sentence and nothing stored; `read`: particles as in the plain picture; `odd`: read, but nothing sensible to find. */
  readonly ought: 'refused' | 'read' | 'odd';
}

/** A small drawn filter photograph, 1200 × 900 px at 12 µm/px: what the files that ought to be read show. */
export function plainPicture(): { width: number; height: number; pixels: Uint8Array } {
  const filter = {
    name: 'plain',
    run: 'plain',
    kind: 'spiked',
    session: 1,
    synthetic: 20,
    spiked: { small: 0, large: 20 },
    tissue: 0,
    passed: 1,
    clogged: false,
    handle: 'green',
  } as const;
  return drawPhotograph({ ...recipeFor(filter, 3), width: 1200, height: 900, umPerPx: 12 });
}

/** Writes all of them into `folder` (made when missing) and says what each is. Names include awkward ones. */
export async function writeBrokenFiles(folder: string): Promise<readonly OddFile[]> {
  mkdirSync(folder, { recursive: true });
  const files: OddFile[] = [];
  const put = (name: string, what: string, ought: OddFile['ought'], bytes: Uint8Array | string): void => {
    const path = join(folder, name);
    writeFileSync(path, bytes);
    files.push({ name, path, what, ought });
  };
  const { width, height, pixels } = plainPicture();
  const image = (): Sharp => sharp(pixels, { raw: { width, height, channels: 3 } });
  const jpeg = await image().jpeg({ quality: 90 }).toBuffer();
  const png = await image().png().toBuffer();
  const tiff = await image()
    .tiff({ tile: true, tileWidth: 256, tileHeight: 256, compression: 'deflate' })
    .toBuffer();

  put(
    'truncated.jpg',
    'a JPEG cut off after six tenths',
    'refused',
    jpeg.subarray(0, Math.floor(jpeg.length * 0.6)),
  );
  put('header-only.jpg', 'the first 200 bytes of a JPEG', 'refused', jpeg.subarray(0, 200));
  put('empty.jpg', 'an empty file', 'refused', '');
  put(
    'letter.jpg',
    'a text named .jpg',
    'refused',
    'Dear laboratory,\nplease find the photographs attached.\n',
  );
  put('drawing.svg', 'an SVG with a script and an outside reference', 'refused', SVG);
  put('drawing.png', 'an SVG named .png', 'refused', SVG);
  put('paper.png', 'a PDF named .png', 'refused', PDF);
  put(
    'giant.png',
    'a PNG of 60,000 × 60,000 px of one colour',
    'refused',
    oneColourPng(60_000, 60_000, [200, 198, 190]),
  );
  put(
    'claims-giant.png',
    'a PNG that claims 100,000 × 100,000 px and holds nothing',
    'refused',
    claimsGiant(png),
  );
  put('one-pixel.png', 'a picture of 1 × 1 px', 'refused', await tiny(1, 1));
  put('thin.png', 'a picture of 4000 × 1 px', 'refused', await tiny(4000, 1));
  put('wrong-crc.png', 'a PNG whose checksum is wrong', 'refused', wrongCrc(png));
  put(
    'cut-mosaic.tif',
    'a tiled TIFF cut off after half',
    'refused',
    tiff.subarray(0, Math.floor(tiff.length / 2)),
  );
  put('noise.bin.jpg', 'random bytes behind a JPEG marker', 'refused', noiseBehindMarker());

  put('plain.jpg', 'a plain JPEG', 'read', jpeg);
  put('progressive.jpg', 'a progressive JPEG', 'read', await image().jpeg({ progressive: true }).toBuffer());
  put(
    'cmyk.jpg',
    'a JPEG in CMYK',
    'read',
    await image().toColourspace('cmyk').jpeg({ quality: 92 }).toBuffer(),
  );
  put('turned.jpg', 'a JPEG stored on its side with EXIF orientation 6', 'read', await onItsSide(image));
  put(
    'grey-alpha.png',
    'a grey PNG with an alpha channel',
    'read',
    await greyWithAlpha(pixels, width, height),
  );
  put(
    'palette.png',
    'a PNG with a palette of 256 colours',
    'read',
    await image().png({ palette: true }).toBuffer(),
  );
  put(
    'twelve-bit.png',
    'a 16-bit grey PNG that uses 12 bits',
    'read',
    await twelveBit(pixels, width, height, 'png'),
  );
  put(
    'twelve-bit.tif',
    'a 16-bit grey TIFF that uses 12 bits',
    'read',
    await twelveBit(pixels, width, height, 'tiff'),
  );
  put('tiled.tif', 'a tiled TIFF', 'read', tiff);
  put(
    'wide-gamut.jpg',
    'a JPEG in the colour space P3',
    'read',
    await image().withIccProfile('p3').jpeg({ quality: 92 }).toBuffer(),
  );
  put('photo.PNG.jpg', 'a PNG named .jpg', 'read', png);
  put('-leading-dash.jpg', 'a name that begins with a dash', 'read', jpeg);
  put('two\nlines.jpg', 'a name of two lines', 'read', jpeg);
  put('ünïcode 照片 🥕.jpg', 'a name beyond ASCII', 'read', jpeg);
  put('<img src=x onerror=alert(1)>.jpg', 'a name that would like to be HTML', 'read', jpeg);

  put('black.png', 'all black', 'odd', await flat(1200, 900, [0, 0, 0]));
  put('white.png', 'all white', 'odd', await flat(1200, 900, [255, 255, 255]));
  put(
    'stripes.png',
    'a photograph of something else: stripes and blobs without a membrane',
    'odd',
    await somethingElse(),
  );
  return files;
}

const SVG = `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="400" height="300"><script>alert(1)</script><image xlink:href="file:///etc/hostname" width="9" height="9"/><circle cx="90" cy="90" r="40"/></svg>\n`;
const PDF =
  '%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n2 0 obj<</Type/Pages/Kids[]/Count 0>>endobj\ntrailer<</Root 1 0 R>>\n%%EOF\n';

const flat = (width: number, height: number, [r, g, b]: readonly [number, number, number]): Promise<Buffer> =>
  sharp({ create: { width, height, channels: 3, background: { r, g, b } } })
    .png()
    .toBuffer();

const tiny = (width: number, height: number): Promise<Buffer> => flat(width, height, [220, 218, 210]);

/** Changes one byte of the checksum of the first data chunk. */
function wrongCrc(png: Buffer): Buffer {
  const bytes = Buffer.from(png);
  const at = bytes.indexOf('IDAT');
  const length = bytes.readUInt32BE(at - 4);
  const crc = at + 4 + length;
  bytes[crc] = bytes[crc]! ^ 0xff;
  return bytes;
}

/** Keeps the header but writes an enormous size into it, without mending the checksum of the data that is missing. */
function claimsGiant(png: Buffer): Buffer {
  const header = oneColourPng(100_000, 100_000, [0, 0, 0], 0);
  return Buffer.concat([header, png.subarray(png.length - 12)]);
}

function noiseBehindMarker(): Buffer {
  const bytes = Buffer.alloc(20_000);
  let state = 7;
  for (let i = 0; i < bytes.length; i++) {
    state = (Math.imul(state, 1103515245) + 12345) & 0x7fffffff;
    bytes[i] = state >>> 16;
  }
  bytes.set([0xff, 0xd8, 0xff, 0xe0, 0x00, 0x10, 0x4a, 0x46, 0x49, 0x46, 0x00]);
  return bytes;
}

/** Turned left, with the note that it must be turned right to be seen upright. */
async function onItsSide(image: () => Sharp): Promise<Buffer> {
  const left = await image().rotate(270).png().toBuffer();
  return sharp(left).withMetadata({ orientation: 6 }).jpeg({ quality: 92 }).toBuffer();
}

function greyWithAlpha(pixels: Uint8Array, width: number, height: number): Promise<Buffer> {
  const pairs = new Uint8Array(width * height * 2).fill(255);
  for (let i = 0; i < width * height; i++) {
    pairs[2 * i] = Math.round((pixels[3 * i]! + pixels[3 * i + 1]! + pixels[3 * i + 2]!) / 3);
  }
  return sharp(pairs, { raw: { width, height, channels: 2 } })
    .toColourspace('b-w')
    .png()
    .toBuffer();
}

async function twelveBit(
  pixels: Uint8Array,
  width: number,
  height: number,
  kind: 'png' | 'tiff',
): Promise<Buffer> {
  const deep = new Uint16Array(width * height);
  for (let i = 0; i < deep.length; i++) {
    deep[i] = Math.round(((pixels[3 * i]! + pixels[3 * i + 1]! + pixels[3 * i + 2]!) / 765) * 4095);
  }
  const image = sharp(deep, { raw: { width, height, channels: 1 } }).toColourspace('grey16');
  return kind === 'png' ? image.png().toBuffer() : image.tiff({ compression: 'none' }).toBuffer();
}

/** Broad stripes and blotches of many colours: nothing like a membrane. */
async function somethingElse(): Promise<Buffer> {
  const [width, height] = [1200, 900];
  const data = new Uint8Array(width * height * 3);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const wave = Math.sin(x / 37 + 3 * Math.sin(y / 61)) + Math.sin((x + 2 * y) / 23);
      const at = (y * width + x) * 3;
      data[at] = 128 + 55 * wave;
      data[at + 1] = 110 + 50 * Math.sin(y / 19 + wave);
      data[at + 2] = 90 + 60 * Math.cos(x / 83 - wave);
    }
  }
  return sharp(data, { raw: { width, height, channels: 3 } })
    .png()
    .toBuffer();
}
