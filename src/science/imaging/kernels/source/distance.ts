// Distance to the nearest pixel outside a shape. AssemblyScript, see planes.ts.

/**
 * Exact distances inside a mask of 0 and 1, beyond the window counting as outside: down the columns by counting, along
 * each row's runs by lower envelopes of parabolas. `room` holds 20 (w + 3) bytes, and 16 more.
 * Source of the method: Felzenszwalb and Huttenlocher, Theory of Computing 8 (2012) 415–428.
 */
export function distance(mask: usize, w: i32, h: i32, out: usize, room: usize): void {
  const size = (<usize>w) << 2;
  const one = f32x4.splat(1);
  for (let y = 0; y < h; y++) {
    const row = out + <usize>y * size;
    const from = mask + <usize>(y * w);
    let x = 0;
    for (; x + 4 <= w; x += 4) {
      const at = row + ((<usize>x) << 2);
      const four = i32x4.extend_low_i16x8_u(i16x8.extend_low_i8x16_u(v128.load32_zero(from + x)));
      const inside = i32x4.ne(four, i32x4.splat(0));
      const above = y > 0 ? f32x4.add(v128.load(at - size), one) : one;
      v128.store(at, v128.and(above, inside));
    }
    for (; x < w; x++) {
      const at = row + ((<usize>x) << 2);
      const above: f32 = y > 0 ? load<f32>(at - size) + 1 : 1;
      store<f32>(at, load<u8>(from + x) ? above : 0);
    }
  }
  for (let y = h - 1; y >= 0; y--) {
    const row = out + <usize>y * size;
    let x = 0;
    for (; x + 4 <= w; x += 4) {
      const at = row + ((<usize>x) << 2);
      const below = y < h - 1 ? f32x4.add(v128.load(at + size), one) : one;
      v128.store(at, f32x4.pmin(v128.load(at), below));
    }
    for (; x < w; x++) {
      const at = row + ((<usize>x) << 2);
      const below: f32 = y < h - 1 ? load<f32>(at + size) + 1 : 1;
      if (below < load<f32>(at)) store<f32>(at, below);
    }
  }
  for (let y = 0; y < h; y++) {
    const row = out + <usize>y * size;
    for (let x = 0; x < w; x++) {
      if (load<f32>(row + ((<usize>x) << 2)) === 0) continue;
      const start = x;
      while (x < w && load<f32>(row + ((<usize>x) << 2)) !== 0) x++;
      const at = row + ((<usize>start) << 2);
      if (x - start === 1) store<f32>(at, 1);
      else alongRun(at, x - start, room);
    }
  }
}

/** One run of n pixels: heights of columns in, distances out. In `room` lie borders, squared heights and places. */
function alongRun(run: usize, n: i32, room: usize): void {
  const borders = room;
  const heights = borders + ((<usize>(n + 3)) << 3);
  const places = heights + ((<usize>(n + 3)) << 3);
  store<f64>(heights, 0);
  store<f64>(heights + ((<usize>(n + 1)) << 3), 0);
  for (let i = 0; i < n; i++) {
    const v = <f64>load<f32>(run + ((<usize>i) << 2));
    store<f64>(heights + ((<usize>(i + 1)) << 3), v * v);
  }
  let k = 0;
  store<i32>(places, 0);
  store<f64>(borders, -Infinity);
  for (let q = 1; q < n + 2; q++) {
    const own = load<f64>(heights + ((<usize>q) << 3)) + <f64>(q * q);
    let s: f64 = 0;
    for (;;) {
      const p = load<i32>(places + ((<usize>k) << 2));
      s = (own - load<f64>(heights + ((<usize>p) << 3)) - <f64>(p * p)) / <f64>(2 * (q - p));
      if (s > load<f64>(borders + ((<usize>k) << 3))) break;
      k--;
    }
    k++;
    store<i32>(places + ((<usize>k) << 2), q);
    store<f64>(borders + ((<usize>k) << 3), s);
  }
  store<f64>(borders + ((<usize>(k + 1)) << 3), Infinity);
  k = 0;
  for (let q = 1; q <= n; q++) {
    while (load<f64>(borders + ((<usize>(k + 1)) << 3)) < <f64>q) k++;
    const p = load<i32>(places + ((<usize>k) << 2));
    const d = <f64>((q - p) * (q - p)) + load<f64>(heights + ((<usize>p) << 3));
    store<f32>(run + ((<usize>(q - 1)) << 2), <f32>Math.sqrt(d));
  }
}
