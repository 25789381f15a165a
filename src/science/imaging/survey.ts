/**
 * The first look at a photograph, rows in order: a reduced picture (for the printed lattice, the filter's edge and the
 * membrane's brightness) and a thin regular sample of every smoothing level (for the local noise).
 * A whole picture and its strips give the same survey to the last digit, as rows are taken 64 at a time.
 */
import type { Picture } from './finding.ts';

/** Smoothing levels: level k looks at blocks of 2^k px through a (1 2 1)² window. */
export const LEVELS = 5;
/** Rows are surveyed in groups of this many: four of the coarsest blocks. */
export const SURVEY_ROWS = 64;

/** Smoothed values of one level at the points of a regular lattice, channel by channel. */
export interface LevelSample {
  readonly x: Float32Array;
  readonly y: Float32Array;
  /** Three values (or one) a point. */
  readonly values: Float32Array;
}

export interface Survey {
  readonly width: number;
  readonly height: number;
  readonly channels: 1 | 3;
  readonly full: number;
  readonly factor: number;
  /** Means of factor × factor blocks, 16 bits. */
  readonly reduced: Picture;
  readonly samples: readonly LevelSample[];
}

/** Memory of so many bytes. */
export type Room = (bytes: number) => ArrayBufferLike;

const ownRoom: Room = (bytes) => new ArrayBuffer(bytes);

export interface SurveyTaker {
  /** Rows from `top`, which must be where the last ones ended; all but the last group hold a multiple of 64 rows. */
  add(rows: Picture, top: number): void;
  finish(): Survey;
}

/** Reduction that keeps the reduced picture near 6 megapixels: the lattice and the light need no more. */
export function reduction(width: number, height: number): number {
  const pixels = width * height;
  if (pixels <= 3e6) return 1;
  if (pixels <= 3e7) return 2;
  if (pixels <= 1.2e8) return 4;
  return 8;
}

interface Level {
  readonly width: number;
  readonly height: number;
  readonly data: Float32Array;
}

function rawLevel(rows: Picture): Level {
  const data = new Float32Array(rows.data.length);
  const scale = 1 / rows.full;
  for (let i = 0; i < data.length; i++) data[i] = rows.data[i]! * scale;
  return { width: rows.width, height: rows.height, data };
}

/** Level 1 straight from the photograph's integers: the only pass over every pixel. */
function firstHalf(rows: Picture): Level {
  const c = rows.channels;
  const w = rows.width >> 1;
  const h = rows.height >> 1;
  const from = rows.data;
  const data = new Float32Array(w * h * c);
  const scale = 0.25 / rows.full;
  const stride = rows.width * c;
  for (let y = 0; y < h; y++) {
    let i = 2 * y * stride;
    let o = y * w * c;
    if (c === 3) {
      for (let x = 0; x < w; x++, i += 6, o += 3) {
        const j = i + stride;
        data[o] = (from[i]! + from[i + 3]! + from[j]! + from[j + 3]!) * scale;
        data[o + 1] = (from[i + 1]! + from[i + 4]! + from[j + 1]! + from[j + 4]!) * scale;
        data[o + 2] = (from[i + 2]! + from[i + 5]! + from[j + 2]! + from[j + 5]!) * scale;
      }
    } else {
      for (let x = 0; x < w; x++, i += 2, o++) {
        const j = i + stride;
        data[o] = (from[i]! + from[i + 1]! + from[j]! + from[j + 1]!) * scale;
      }
    }
  }
  return { width: w, height: h, data };
}

function halfOf(level: Level, c: number): Level {
  const w = level.width >> 1;
  const h = level.height >> 1;
  const data = new Float32Array(w * h * c);
  const a = level.data;
  const stride = level.width * c;
  for (let y = 0; y < h; y++) {
    let o = y * w * c;
    for (let x = 0; x < w; x++) {
      const i = 2 * y * stride + 2 * x * c;
      for (let k = 0; k < c; k++, o++) {
        data[o] = 0.25 * (a[i + k]! + a[i + c + k]! + a[i + stride + k]! + a[i + stride + c + k]!);
      }
    }
  }
  return { width: w, height: h, data };
}

/** (1 2 1)² window around place `i` of interleaved rows, whose neighbours are `c` and `stride` away. */
function windowed(data: ArrayLike<number>, i: number, c: number, stride: number): number {
  const up = i - stride;
  const down = i + stride;
  return (
    (data[up - c]! +
      data[up + c]! +
      data[down - c]! +
      data[down + c]! +
      2 * (data[up]! + data[i - c]! + data[i + c]! + data[down]!) +
      4 * data[i]!) /
    16
  );
}

/** Values of one level as they are taken. */
interface Sample {
  n: number;
  readonly x: Float32Array;
  readonly y: Float32Array;
  readonly values: Float32Array;
}

/** Takes every `step / 2^k`-th place of rows from row `top` of the photograph, as parts of `white`. */
function takeSample(
  out: Sample,
  k: number,
  step: number,
  { width, height, data }: Level | Picture,
  white: number,
  top: number,
  channels: 1 | 3,
): void {
  const block = 1 << k;
  const stride = Math.max(1, step / block);
  const start = Math.max(1, stride >> 1);
  const row = width * channels;
  for (let y = start; y < height - 1; y += stride) {
    for (let x = start; x < width - 1; x += stride) {
      out.x[out.n] = (x + 0.5) * block;
      out.y[out.n] = top + (y + 0.5) * block;
      for (let c = 0; c < channels; c++) {
        const value = windowed(data, y * row + x * channels + c, channels, row);
        out.values[out.n * channels + c] = value / white;
      }
      out.n++;
    }
  }
}

/** Rows from y0 of the reduced picture of rw × rh, to 16 bits. */
function keepReduced(
  reduced: Uint16Array,
  rw: number,
  rh: number,
  level: Level,
  y0: number,
  channels: 1 | 3,
): void {
  const rows = Math.min(level.height, rh - y0);
  for (let y = 0; y < rows; y++) {
    const from = y * level.width * channels;
    const to = (y0 + y) * rw * channels;
    for (let i = 0; i < rw * channels; i++) reduced[to + i] = (level.data[from + i]! * 65535 + 0.5) | 0;
  }
}

/** @param room where what is kept lies: memory that other hands can read, or the caller's own. */
export function takeSurvey(
  width: number,
  height: number,
  channels: 1 | 3,
  full: number,
  room: Room = ownRoom,
): SurveyTaker {
  const factor = reduction(width, height);
  const rw = Math.floor(width / factor);
  const rh = Math.floor(height / factor);
  const reduced = new Uint16Array(room(2 * Math.max(1, rw * rh) * channels));
  const shift = Math.log2(factor);
  const step = width * height > 1e8 ? 32 : 16;
  // Every group of rows gives each level the same lattice, the last perhaps fewer rows of it.
  const groups = Math.ceil(height / SURVEY_ROWS);
  const samples = Array.from({ length: LEVELS }, (_, k): Sample => {
    const stride = Math.max(1, step >> k);
    const most = groups * Math.ceil((SURVEY_ROWS >> k) / stride) * Math.ceil((width >> k) / stride);
    return {
      n: 0,
      x: new Float32Array(room(4 * most)),
      y: new Float32Array(room(4 * most)),
      values: new Float32Array(room(4 * most * channels)),
    };
  });
  let next = 0;

  return {
    add(rows, top) {
      if (top !== next) throw new RangeError(`rows from ${next} are needed next, given rows from ${top}`);
      next = top + rows.height;
      takeSample(samples[0]!, 0, step, rows, rows.full, top, channels);
      if (factor === 1) keepReduced(reduced, rw, rh, rawLevel(rows), top, channels);
      let level = firstHalf(rows);
      for (let k = 1; k < LEVELS; k++) {
        if (k > 1) level = halfOf(level, channels);
        takeSample(samples[k]!, k, step, level, 1, top, channels);
        if (k === shift) keepReduced(reduced, rw, rh, level, top >> shift, channels);
      }
    },
    finish() {
      if (next !== height) throw new RangeError(`the photo has ${height} rows, given ${next}`);
      return {
        width,
        height,
        channels,
        full,
        factor,
        reduced: { width: Math.max(1, rw), height: Math.max(1, rh), channels, data: reduced, full: 65535 },
        samples: samples.map(({ n, x, y, values }) => ({
          x: x.subarray(0, n),
          y: y.subarray(0, n),
          values: values.subarray(0, n * channels),
        })),
      };
    },
  };
}

/** Survey of a picture in memory. */
export function survey(picture: Picture, room?: Room): Survey {
  const { width, height, channels, full, data } = picture;
  const taker = takeSurvey(width, height, channels, full, room);
  for (let top = 0; top < height; top += SURVEY_ROWS) {
    const rows = Math.min(SURVEY_ROWS, height - top);
    const part = data.subarray(top * width * channels, (top + rows) * width * channels);
    taker.add({ width, height: rows, channels, full, data: part }, top);
  }
  return taker.finish();
}
