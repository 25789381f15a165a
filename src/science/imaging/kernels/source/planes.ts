// Filters of planes of floats, row by row. AssemblyScript: compiled by scripts/kernels.mjs into ../compiled.ts.
// Planes may be written up to 12 bytes beyond their end: the arena leaves room between them.

/** (1 2 1)² / 16, the border repeated. `line` holds w + 8 floats. */
export function smooth(from: usize, w: i32, h: i32, out: usize, line: usize): void {
  const part = f32x4.splat(0.0625);
  for (let y = 0; y < h; y++) {
    const mid = from + ((<usize>(y * w)) << 2);
    const up = y > 0 ? mid - ((<usize>w) << 2) : mid;
    const down = y < h - 1 ? mid + ((<usize>w) << 2) : mid;
    let x = 0;
    for (; x + 4 <= w; x += 4) {
      const at = (<usize>x) << 2;
      const m = v128.load(mid + at);
      const v = f32x4.add(f32x4.add(v128.load(up + at), v128.load(down + at)), f32x4.add(m, m));
      v128.store(line + 4 + at, v);
    }
    for (; x < w; x++) {
      const at = (<usize>x) << 2;
      const m = load<f32>(mid + at);
      store<f32>(line + 4 + at, load<f32>(up + at) + load<f32>(down + at) + (m + m));
    }
    store<f32>(line, load<f32>(line + 4));
    store<f32>(line + 4 + ((<usize>w) << 2), load<f32>(line + ((<usize>w) << 2)));
    const to = out + ((<usize>(y * w)) << 2);
    // The last lanes beyond the row are written over by the row after.
    for (x = 0; x < w; x += 4) {
      const at = line + ((<usize>x) << 2);
      const m = v128.load(at, 4);
      const v = f32x4.add(f32x4.add(v128.load(at), v128.load(at, 8)), f32x4.add(m, m));
      v128.store(to + ((<usize>x) << 2), f32x4.mul(v, part));
    }
  }
}

/** Means of 2 × 2 blocks; an odd last row or column is left out. */
export function halve(from: usize, w: i32, h: i32, out: usize): void {
  const half = w >> 1;
  const rows = h >> 1;
  const quarter = f32x4.splat(0.25);
  for (let y = 0; y < rows; y++) {
    const a = from + ((<usize>(2 * y * w)) << 2);
    const b = a + ((<usize>w) << 2);
    const to = out + ((<usize>(y * half)) << 2);
    let x = 0;
    for (; x + 4 <= half; x += 4) {
      const at = (<usize>x) << 3;
      const p = f32x4.add(v128.load(a + at), v128.load(b + at));
      const q = f32x4.add(v128.load(a + at, 16), v128.load(b + at, 16));
      const even = v128.shuffle<f32>(p, q, 0, 2, 4, 6);
      const odd = v128.shuffle<f32>(p, q, 1, 3, 5, 7);
      v128.store(to + ((<usize>x) << 2), f32x4.mul(f32x4.add(even, odd), quarter));
    }
    for (; x < half; x++) {
      const at = (<usize>x) << 3;
      const even = load<f32>(a + at) + load<f32>(b + at);
      const odd = load<f32>(a + at, 4) + load<f32>(b + at, 4);
      store<f32>(to + ((<usize>x) << 2), (even + odd) * 0.25);
    }
  }
}

/**
 * Convolution with a symmetric kernel of `reach` values to each side, across into `across`, then down into `out`; the
 * border repeated. `kernel` holds the middle and the values to one side; `line` w + 2 reach + 8 floats.
 */
export function convolve(
  from: usize,
  w: i32,
  h: i32,
  kernel: usize,
  reach: i32,
  across: usize,
  out: usize,
  line: usize,
): void {
  const size = (<usize>w) << 2;
  const rim = (<usize>reach) << 2;
  for (let y = 0; y < h; y++) {
    const row = from + <usize>y * size;
    memory.copy(line + rim, row, size);
    const first = load<f32>(row);
    const last = load<f32>(row + size - 4);
    for (let k = 0; k < reach; k++) {
      store<f32>(line + ((<usize>k) << 2), first);
      store<f32>(line + rim + size + ((<usize>k) << 2), last);
    }
    const to = across + <usize>y * size;
    for (let x = 0; x < w; x += 4) {
      const at = line + rim + ((<usize>x) << 2);
      let v = f32x4.mul(v128.load32_splat(kernel), v128.load(at));
      for (let k = 1; k <= reach; k++) {
        const o = (<usize>k) << 2;
        v = f32x4.add(
          v,
          f32x4.mul(v128.load32_splat(kernel + o), f32x4.add(v128.load(at - o), v128.load(at + o))),
        );
      }
      v128.store(to + ((<usize>x) << 2), v);
    }
  }
  for (let y = 0; y < h; y++) {
    const row = across + <usize>y * size;
    const to = out + <usize>y * size;
    for (let x = 0; x < w; x += 4) {
      const at = (<usize>x) << 2;
      let v = f32x4.mul(v128.load32_splat(kernel), v128.load(row + at));
      for (let k = 1; k <= reach; k++) {
        const up = across + <usize>max(0, y - k) * size + at;
        const down = across + <usize>min(h - 1, y + k) * size + at;
        v = f32x4.add(
          v,
          f32x4.mul(v128.load32_splat(kernel + ((<usize>k) << 2)), f32x4.add(v128.load(up), v128.load(down))),
        );
      }
      v128.store(to + at, v);
    }
  }
}

/**
 * Largest value within ± r in both directions of values not below 0, by windows that double in length.
 * `rows` holds h + 2r rows, `line` w + 2r + 16 floats.
 */
export function localMax(from: usize, w: i32, h: i32, r: i32, out: usize, rows: usize, line: usize): void {
  const size = (<usize>w) << 2;
  const rim = (<usize>r) << 2;
  const whole = 2 * r + 1;
  memory.fill(rows, 0, <usize>r * size);
  for (let y = 0; y < h; y++) {
    memory.fill(line, 0, rim);
    memory.copy(line + rim, from + <usize>y * size, size);
    memory.fill(line + rim + size, 0, rim + 64);
    const n = w + 2 * r;
    let long = 1;
    while (2 * long <= whole) {
      const o = (<usize>long) << 2;
      for (let x = 0; x < n; x += 4) {
        const at = line + ((<usize>x) << 2);
        v128.store(at, f32x4.pmax(v128.load(at), v128.load(at + o)));
      }
      long *= 2;
    }
    const rest = (<usize>(whole - long)) << 2;
    const to = rows + <usize>(y + r) * size;
    for (let x = 0; x < w; x += 4) {
      const at = line + ((<usize>x) << 2);
      v128.store(to + ((<usize>x) << 2), f32x4.pmax(v128.load(at), v128.load(at + rest)));
    }
  }
  memory.fill(rows + <usize>(h + r) * size, 0, <usize>r * size + 16);
  const most = (h + 2 * r) * w;
  let long = 1;
  while (2 * long <= whole) {
    const o = <usize>long * size;
    const n = most - long * w;
    for (let i = 0; i < n; i += 4) {
      const at = rows + ((<usize>i) << 2);
      v128.store(at, f32x4.pmax(v128.load(at), v128.load(at + o)));
    }
    long *= 2;
  }
  const rest = <usize>(whole - long) * size;
  for (let i = 0; i < w * h; i += 4) {
    const at = (<usize>i) << 2;
    v128.store(out + at, f32x4.pmax(v128.load(rows + at), v128.load(rows + at + rest)));
  }
}

/** As `localMax`, for bytes: a mask grown by r to all sides. `rows` holds h + 2r rows and 16 bytes, `line` w + 2r + 64. */
export function dilate(from: usize, w: i32, h: i32, r: i32, out: usize, rows: usize, line: usize): void {
  const size = <usize>w;
  const whole = 2 * r + 1;
  memory.fill(rows, 0, <usize>r * size);
  for (let y = 0; y < h; y++) {
    memory.fill(line, 0, r);
    memory.copy(line + r, from + <usize>y * size, size);
    memory.fill(line + r + size, 0, r + 48);
    const n = w + 2 * r;
    let long = 1;
    while (2 * long <= whole) {
      for (let x = 0; x < n; x += 16) {
        const at = line + x;
        v128.store(at, v128.or(v128.load(at), v128.load(at + long)));
      }
      long *= 2;
    }
    const rest = whole - long;
    const to = rows + <usize>(y + r) * size;
    for (let x = 0; x < w; x += 16) {
      const at = line + x;
      v128.store(to + x, v128.or(v128.load(at), v128.load(at + rest)));
    }
  }
  memory.fill(rows + <usize>(h + r) * size, 0, <usize>r * size + 16);
  const most = (h + 2 * r) * w;
  let long = 1;
  while (2 * long <= whole) {
    const o = <usize>long * size;
    const n = most - long * w;
    for (let i = 0; i < n; i += 16) {
      const at = rows + i;
      v128.store(at, v128.or(v128.load(at), v128.load(at + o)));
    }
    long *= 2;
  }
  const rest = <usize>(whole - long) * size;
  for (let i = 0; i < w * h; i += 16) {
    v128.store(out + i, v128.or(v128.load(rows + i), v128.load(rows + i + rest)));
  }
}
