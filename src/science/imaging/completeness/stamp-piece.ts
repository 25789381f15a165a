/** Draws a known piece into pixels as this photograph would have shown it: its blur, its light, its noise. */
import { type Chance, drawNormal } from '../../maths/index.ts';
import type { Picture, Point } from '../finding.ts';
import type { KnownPiece } from './known-piece.ts';

/** Share of each pixel that a piece covers, after blur; pixel (i, j) of the patch lies at (left + i, top + j). */
export interface Cover {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  readonly share: Float32Array;
}

/** Points a side that are asked in each pixel. */
const ASKED = 4;

function insideOutline(line: readonly Point[], x: number, y: number): boolean {
  let inside = false;
  for (let i = 0, j = line.length - 1; i < line.length; j = i++) {
    const [xi, yi] = line[i]!;
    const [xj, yj] = line[j]!;
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) inside = !inside;
  }
  return inside;
}

function nearLine(line: readonly Point[], x: number, y: number, reach: number): boolean {
  for (let i = 0; i + 1 < line.length; i++) {
    const [ax, ay] = line[i]!;
    const [bx, by] = line[i + 1]!;
    const [ex, ey] = [bx - ax, by - ay];
    const t = Math.max(0, Math.min(1, ((x - ax) * ex + (y - ay) * ey) / (ex * ex + ey * ey || 1)));
    if ((x - ax - t * ex) ** 2 + (y - ay - t * ey) ** 2 <= reach * reach) return true;
  }
  return false;
}

/** Blur by a normal law of spread `sigma`, rows then columns, in place; the patch has room for it. */
function blurred(values: Float32Array, width: number, height: number, sigma: number): void {
  if (sigma < 0.2) return;
  const reach = Math.ceil(3 * sigma);
  const kernel = Array.from({ length: 2 * reach + 1 }, (_, k) =>
    Math.exp(-((k - reach) ** 2) / (2 * sigma * sigma)),
  );
  const sum = kernel.reduce((s, v) => s + v, 0);
  const pass = (count: number, length: number, stride: number, jump: number) => {
    const row = new Float64Array(length);
    for (let c = 0; c < count; c++) {
      for (let i = 0; i < length; i++) row[i] = values[c * jump + i * stride]!;
      for (let i = 0; i < length; i++) {
        let s = 0;
        const from = Math.max(0, i - reach);
        const to = Math.min(length - 1, i + reach);
        for (let k = from; k <= to; k++) s += row[k]! * kernel[k - i + reach]!;
        values[c * jump + i * stride] = s / sum;
      }
    }
  };
  pass(height, width, 1, width);
  pass(width, height, width, 1);
}

/** How much of each pixel the piece covers when its middle lies at `at` and the lens blurs by `blurPx`. */
export function coverOf(piece: KnownPiece, at: Point, blurPx: number): Cover {
  const room = Math.ceil(3 * blurPx) + 2;
  const xs = piece.line.map((p) => p[0]);
  const ys = piece.line.map((p) => p[1]);
  const half = piece.widthPx / 2;
  const left = Math.floor(at[0] + Math.min(...xs) - half) - room;
  const top = Math.floor(at[1] + Math.min(...ys) - half) - room;
  const width = Math.ceil(at[0] + Math.max(...xs) + half) + room - left;
  const height = Math.ceil(at[1] + Math.max(...ys) + half) + room - top;
  const share = new Float32Array(width * height);
  const fibre = piece.shape === 'fibre';
  // A fibre thinner than the points asked is drawn as wide as they are apart, and as much fainter.
  const reach = Math.max(half, 0.5 / ASKED);
  const faint = fibre ? half / reach : 1;
  for (let j = room - 1; j < height - room + 1; j++) {
    for (let i = room - 1; i < width - room + 1; i++) {
      let hit = 0;
      for (let b = 0; b < ASKED; b++) {
        for (let a = 0; a < ASKED; a++) {
          const x = left + i + (a + 0.5) / ASKED - at[0];
          const y = top + j + (b + 0.5) / ASKED - at[1];
          if (fibre ? nearLine(piece.line, x, y, reach) : insideOutline(piece.line, x, y)) hit++;
        }
      }
      share[j * width + i] = (faint * hit) / (ASKED * ASKED);
    }
  }
  blurred(share, width, height, blurPx);
  return { left, top, width, height, share };
}

/** Median membrane value about a patch and the noise between neighbouring pixels, in one channel. */
function ground(picture: Picture, cover: Cover, channel: number): { level: number; noise: number } {
  const values: number[] = [];
  const jumps: number[] = [];
  const { width, height, channels, data } = picture;
  for (let j = -2; j < cover.height + 2; j++) {
    for (let i = -2; i < cover.width + 2; i++) {
      const x = cover.left + i;
      const y = cover.top + j;
      if (x < 0 || y < 0 || x + 1 >= width || y >= height) continue;
      const inPatch = i >= 0 && j >= 0 && i < cover.width && j < cover.height;
      if (inPatch && cover.share[j * cover.width + i]! > 0.02) continue;
      const at = (y * width + x) * channels + channel;
      values.push(data[at]!);
      jumps.push(Math.abs(data[at + channels]! - data[at]!));
    }
  }
  values.sort((a, b) => a - b);
  jumps.sort((a, b) => a - b);
  // Difference of two pixels of equal noise: √2 larger; median to standard deviation 1/0.6745.
  const noise = (jumps[jumps.length >> 1] ?? 0) / 0.6745 / Math.SQRT2;
  return { level: values[values.length >> 1] ?? picture.full / 2, noise };
}

/** How a piece changes the light. */
export interface Look {
  /** Change of each channel against the membrane's own value, −1 (black) upwards. */
  readonly change: readonly [number, number, number];
  /** 1 hides the grain below it; less lets it through. */
  readonly opacity: number;
}

/**
 * Changes `picture` where the piece lies. The membrane's level and pixel noise are taken from round about, so that the
 * piece is as bright as this light would make it and as noisy as its neighbours; grain shows through what is clear.
 */
export function stampPiece(
  picture: Picture,
  piece: KnownPiece,
  at: Point,
  look: Look,
  blurPx: number,
  chance: Chance,
): void {
  const cover = coverOf(piece, at, blurPx);
  const { width, height, channels, data, full } = picture;
  const tilt = 2 * Math.PI * chance.uniform();
  const shine = piece.shape === 'bead' && piece.feretPx > 8 ? piece.feretPx * 0.12 : 0;
  const grounds = Array.from({ length: channels }, (_, c) => ground(picture, cover, c));
  for (let j = 0; j < cover.height; j++) {
    for (let i = 0; i < cover.width; i++) {
      const share = cover.share[j * cover.width + i]!;
      const x = cover.left + i;
      const y = cover.top + j;
      if (share < 0.002 || x < 0 || y < 0 || x >= width || y >= height) continue;
      const [u, v] = [x + 0.5 - at[0], y + 0.5 - at[1]];
      // Light falls from one side: up to a tenth brighter there and darker opposite.
      const slope = 1 + (0.2 * (u * Math.cos(tilt) + v * Math.sin(tilt))) / Math.max(2, piece.feretPx);
      const spot =
        shine > 0
          ? Math.exp(
              -(((u + 0.18 * piece.feretPx) ** 2 + (v + 0.18 * piece.feretPx) ** 2) / (2 * shine * shine)),
            )
          : 0;
      const wobble = drawNormal(chance);
      for (let c = 0; c < channels; c++) {
        const k = (y * width + x) * channels + c;
        const before = data[k]!;
        const change =
          1 + (channels === 1 ? (look.change[0] + look.change[1] + look.change[2]) / 3 : look.change[c]!);
        const g = grounds[c]!;
        const solid = g.level * change * slope + g.noise * wobble;
        const through = before * change;
        let here = look.opacity * solid + (1 - look.opacity) * through;
        here += spot * 0.7 * (full - here);
        const value = before + share * (here - before);
        data[k] = Math.max(0, Math.min(full, Math.round(value)));
      }
    }
  }
}
