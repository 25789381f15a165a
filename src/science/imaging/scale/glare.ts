/** Where light has blown the picture out: nothing can be seen there, so it does not count as looked at. */
import type { Picture } from '../finding.ts';

export interface Glare {
  /** Share of the picture that is blown out in patches of some size; single highlights on beads do not count. */
  readonly fraction: number;
  /** Low-resolution mask, row by row; 1 is blown out. */
  readonly mask: {
    readonly step: number;
    readonly columns: number;
    readonly rows: number;
    readonly blown: Uint8Array;
  };
}

/** At or above this share of white in every channel a px holds no more detail (project choice). */
const BLOWN = 0.985;

/** Cells of 1/160 of the long side, blown when nine in ten of their samples are; patches under four cells are left. */
export function glareOf(picture: Picture): Glare {
  const { width, height, channels, data } = picture;
  const step = Math.max(2, Math.ceil(Math.max(width, height) / 160));
  const columns = Math.ceil(width / step);
  const rows = Math.ceil(height / step);
  const blown = new Uint8Array(columns * rows);
  const limit = BLOWN * picture.full;
  const stride = Math.max(1, step >> 2);
  for (let j = 0; j < rows; j++) {
    for (let i = 0; i < columns; i++) {
      let all = 0;
      let full = 0;
      for (let y = j * step; y < Math.min(height, (j + 1) * step); y += stride) {
        for (let x = i * step; x < Math.min(width, (i + 1) * step); x += stride) {
          const at = (y * width + x) * channels;
          all++;
          let white = data[at]! >= limit;
          for (let c = 1; white && c < channels; c++) white = data[at + c]! >= limit;
          if (white) full++;
        }
      }
      blown[j * columns + i] = full >= 0.9 * all ? 1 : 0;
    }
  }
  dropSmall(blown, columns, rows, 4);
  let sum = 0;
  for (const b of blown) sum += b;
  return { fraction: sum / blown.length, mask: { step, columns, rows, blown } };
}

/** Clears patches (joined by sides) of fewer than `least` cells. */
function dropSmall(mask: Uint8Array, columns: number, rows: number, least: number): void {
  const seen = new Uint8Array(mask.length);
  for (let start = 0; start < mask.length; start++) {
    if (!mask[start] || seen[start]) continue;
    const patch = [start];
    seen[start] = 1;
    for (let n = 0; n < patch.length; n++) {
      const k = patch[n]!;
      const i = k % columns;
      const j = (k - i) / columns;
      for (const [a, b] of [
        [i - 1, j],
        [i + 1, j],
        [i, j - 1],
        [i, j + 1],
      ] as const) {
        if (a < 0 || b < 0 || a >= columns || b >= rows) continue;
        const next = b * columns + a;
        if (mask[next] && !seen[next]) {
          seen[next] = 1;
          patch.push(next);
        }
      }
    }
    if (patch.length < least) for (const k of patch) mask[k] = 0;
  }
}
