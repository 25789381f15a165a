/** The picture in about a hundred cells along its long side, each the median colour of what it covers. */
import type { Picture } from '../finding.ts';
import { kthSmallest } from '../robust.ts';

export interface Cells {
  readonly columns: number;
  readonly rows: number;
  /** Side of a cell in px. */
  readonly step: number;
  /** R, G, B from 0 to 1, interleaved (a grey picture repeats its value). */
  readonly rgb: Float32Array;
}

const SAMPLES = 5;

/** Medians, so that thin print and small pieces leave no trace and an edge stays sharp. */
export function cellsOf(picture: Picture, across: number): Cells {
  const { width, height, channels, data } = picture;
  const step = Math.max(2, Math.ceil(Math.max(width, height) / across));
  const columns = Math.max(1, Math.floor(width / step));
  const rows = Math.max(1, Math.floor(height / step));
  const rgb = new Float32Array(columns * rows * 3);
  const n = Math.min(SAMPLES, step);
  const sample = new Float32Array(n * n);
  const unit = 1 / picture.full;
  for (let j = 0; j < rows; j++) {
    for (let i = 0; i < columns; i++) {
      for (let c = 0; c < channels; c++) {
        let k = 0;
        for (let b = 0; b < n; b++) {
          const y = j * step + Math.floor(((b + 0.5) * step) / n);
          for (let a = 0; a < n; a++) {
            const x = i * step + Math.floor(((a + 0.5) * step) / n);
            sample[k++] = data[(y * width + x) * channels + c]!;
          }
        }
        rgb[(j * columns + i) * 3 + c] = kthSmallest(sample, k, k >> 1) * unit;
      }
      if (channels === 1) {
        const at = (j * columns + i) * 3;
        rgb[at + 1] = rgb[at]!;
        rgb[at + 2] = rgb[at]!;
      }
    }
  }
  return { columns, rows, step, rgb: medianOfNeighbours(rgb, columns, rows) };
}

/** Median of each 3 × 3 neighbourhood, channel by channel. */
function medianOfNeighbours(rgb: Float32Array, columns: number, rows: number): Float32Array {
  const out = new Float32Array(rgb.length);
  const around = new Float32Array(9);
  for (let j = 0; j < rows; j++) {
    for (let i = 0; i < columns; i++) {
      for (let c = 0; c < 3; c++) {
        let k = 0;
        for (let b = -1; b <= 1; b++) {
          const y = Math.max(0, Math.min(rows - 1, j + b));
          for (let a = -1; a <= 1; a++) {
            const x = Math.max(0, Math.min(columns - 1, i + a));
            around[k++] = rgb[(y * columns + x) * 3 + c]!;
          }
        }
        out[(j * columns + i) * 3 + c] = kthSmallest(around, 9, 4);
      }
    }
  }
  return out;
}
