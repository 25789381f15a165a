/** SHA-256 of a text, for seals: this floor has no machine to ask. Source: FIPS 180-4, §5–6. */

function firstPrimes(n: number): number[] {
  const primes: number[] = [];
  for (let x = 2; primes.length < n; x++) if (primes.every((p) => x % p !== 0)) primes.push(x);
  return primes;
}
/** The first 32 bits of a root's fractional part. */
const bits = (root: number): number => Math.floor((root - Math.floor(root)) * 2 ** 32) | 0;
const K = firstPrimes(64).map((p) => bits(Math.cbrt(p)));
const START = firstPrimes(8).map((p) => bits(Math.sqrt(p)));

function utf8(text: string): number[] {
  const bytes: number[] = [];
  for (const sign of text) {
    const c = sign.codePointAt(0)!;
    if (c < 0x80) bytes.push(c);
    else if (c < 0x800) bytes.push(0xc0 | (c >> 6), 0x80 | (c & 63));
    else if (c < 0x10000) bytes.push(0xe0 | (c >> 12), 0x80 | ((c >> 6) & 63), 0x80 | (c & 63));
    else bytes.push(0xf0 | (c >> 18), 0x80 | ((c >> 12) & 63), 0x80 | ((c >> 6) & 63), 0x80 | (c & 63));
  }
  return bytes;
}

const turn = (x: number, n: number): number => (x >>> n) | (x << (32 - n));

export function sha256(text: string): string {
  const bytes = utf8(text);
  const length = bytes.length * 8;
  bytes.push(0x80);
  while (bytes.length % 64 !== 56) bytes.push(0);
  for (let i = 7; i >= 0; i--) bytes.push(Math.floor(length / 2 ** (8 * i)) & 255);
  const hash = [...START];
  const w = new Int32Array(64);
  for (let block = 0; block < bytes.length; block += 64) {
    for (let t = 0; t < 64; t++) {
      if (t < 16) {
        const at = block + 4 * t;
        w[t] = (bytes[at]! << 24) | (bytes[at + 1]! << 16) | (bytes[at + 2]! << 8) | bytes[at + 3]!;
      } else {
        const a = w[t - 15]!;
        const b = w[t - 2]!;
        const s0 = turn(a, 7) ^ turn(a, 18) ^ (a >>> 3);
        const s1 = turn(b, 17) ^ turn(b, 19) ^ (b >>> 10);
        w[t] = (w[t - 16]! + s0 + w[t - 7]! + s1) | 0;
      }
    }
    let [a, b, c, d, e, f, g, h] = hash as [number, number, number, number, number, number, number, number];
    for (let t = 0; t < 64; t++) {
      const t1 = (h + (turn(e, 6) ^ turn(e, 11) ^ turn(e, 25)) + ((e & f) ^ (~e & g)) + K[t]! + w[t]!) | 0;
      const t2 = ((turn(a, 2) ^ turn(a, 13) ^ turn(a, 22)) + ((a & b) ^ (a & c) ^ (b & c))) | 0;
      h = g;
      g = f;
      f = e;
      e = (d + t1) | 0;
      d = c;
      c = b;
      b = a;
      a = (t1 + t2) | 0;
    }
    [a, b, c, d, e, f, g, h].forEach((x, i) => {
      hash[i] = (hash[i]! + x) | 0;
    });
  }
  return hash.map((x) => (x >>> 0).toString(16).padStart(8, '0')).join('');
}
