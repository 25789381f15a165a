/** What a file is by its first bytes; its name is never believed. */

export const SNIFF_BYTES = 512;

export type Sniffed =
  | { readonly kind: 'jpeg' | 'png' | 'tiff' }
  /** Something else; `named` says what in words for a sentence ("a PDF document"). */
  | { readonly kind: 'other'; readonly named: string };

const ascii = (bytes: Uint8Array, from: number, to: number): string =>
  String.fromCharCode(...bytes.subarray(from, to));
const begins = (bytes: Uint8Array, ...start: number[]): boolean => start.every((b, i) => bytes[i] === b);

/** Formats that people hand in by mistake, each by its published signature. */
const OTHERS: readonly (readonly [named: string, is: (head: Uint8Array) => boolean])[] = [
  ['a PDF document', (h) => ascii(h, 0, 1024).includes('%PDF-')],
  ['a GIF picture', (h) => ascii(h, 0, 4) === 'GIF8'],
  ['a WebP picture', (h) => ascii(h, 0, 4) === 'RIFF' && ascii(h, 8, 12) === 'WEBP'],
  ['a BMP picture', (h) => ascii(h, 0, 2) === 'BM'],
  ['a HEIC or AVIF picture', (h) => /^ftyp(hei|hev|mif1|msf1|avi)/.test(ascii(h, 4, 12))],
  ['a film', (h) => ascii(h, 4, 8) === 'ftyp'],
  ['a ZIP archive', (h) => begins(h, 0x50, 0x4b, 0x03, 0x04)],
  ['a Photoshop document', (h) => ascii(h, 0, 4) === '8BPS'],
  ['a JPEG 2000 picture', (h) => begins(h, 0, 0, 0, 0x0c, 0x6a, 0x50)],
];

function looksLikeText(head: Uint8Array): boolean {
  for (const byte of head)
    if (byte === 0 || (byte < 32 && byte !== 9 && byte !== 10 && byte !== 13)) return false;
  return true;
}

export function sniff(head: Uint8Array): Sniffed {
  if (begins(head, 0xff, 0xd8, 0xff)) return { kind: 'jpeg' };
  if (begins(head, 0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a)) return { kind: 'png' };
  // Classic TIFF has 42 after the byte order, BigTIFF 43.
  if (begins(head, 0x49, 0x49, 42, 0) || begins(head, 0x49, 0x49, 43, 0)) return { kind: 'tiff' };
  if (begins(head, 0x4d, 0x4d, 0, 42) || begins(head, 0x4d, 0x4d, 0, 43)) return { kind: 'tiff' };
  for (const [named, is] of OTHERS) if (is(head)) return { kind: 'other', named };
  if (looksLikeText(head)) {
    const text = ascii(head, 0, head.length).toLowerCase();
    if (text.includes('<svg')) return { kind: 'other', named: 'an SVG drawing' };
    if (text.includes('<html') || text.includes('<!doctype html'))
      return { kind: 'other', named: 'a web page' };
    return { kind: 'other', named: 'plain text' };
  }
  return { kind: 'other', named: 'a file of an unknown kind' };
}
