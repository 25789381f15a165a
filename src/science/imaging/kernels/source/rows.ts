// Rows of pixels: colours against the membrane, marks against the noise. AssemblyScript, see planes.ts.

/** Values from `first` on, growing by `step`. Written in fours. */
export function ramp(out: usize, n: i32, first: f32, step: f32): void {
  const base = f32x4.splat(first);
  const slope = f32x4.splat(step);
  const four = f32x4.splat(4);
  let k = f32x4(0, 1, 2, 3);
  for (let x = 0; x < n; x += 4) {
    v128.store(out + ((<usize>x) << 2), f32x4.add(base, f32x4.mul(slope, k)));
    k = f32x4.add(k, four);
  }
}

/** weight / (value · full), in place. */
export function inverse(line: usize, n: i32, full: f32, weight: f32): void {
  const f = f32x4.splat(full);
  const w = f32x4.splat(weight);
  for (let x = 0; x < n; x += 4) {
    const at = line + ((<usize>x) << 2);
    v128.store(at, f32x4.div(w, f32x4.mul(v128.load(at), f)));
  }
}

function red(v: v128): v128 {
  return f32x4.convert_i32x4_u(
    i8x16.shuffle(v, i64x2.splat(0), 0, 16, 16, 16, 3, 16, 16, 16, 6, 16, 16, 16, 9, 16, 16, 16),
  );
}

function green(v: v128): v128 {
  return f32x4.convert_i32x4_u(
    i8x16.shuffle(v, i64x2.splat(0), 1, 16, 16, 16, 4, 16, 16, 16, 7, 16, 16, 16, 10, 16, 16, 16),
  );
}

function blue(v: v128): v128 {
  return f32x4.convert_i32x4_u(
    i8x16.shuffle(v, i64x2.splat(0), 2, 16, 16, 16, 5, 16, 16, 16, 8, 16, 16, 16, 11, 16, 16, 16),
  );
}

/**
 * Lightness and opponent colours of n pixels of three bytes; three lines hold what each channel is to be multiplied by.
 * Reads 16 bytes at a time, writes in fours.
 */
export function opponentBytes(
  data: usize,
  backR: usize,
  backG: usize,
  backB: usize,
  n: i32,
  lightness: usize,
  redGreen: usize,
  blueYellow: usize,
  wr: f32,
  wg: f32,
  wb: f32,
): void {
  const r3 = f32x4.splat(wr);
  const g3 = f32x4.splat(wg);
  const b3 = f32x4.splat(wb);
  const one = f32x4.splat(1);
  const half = f32x4.splat(0.5);
  for (let x = 0; x < n; x += 4) {
    const at = (<usize>x) << 2;
    const v = v128.load(data + 3 * <usize>x);
    const r = f32x4.mul(red(v), v128.load(backR + at));
    const g = f32x4.mul(green(v), v128.load(backG + at));
    const b = f32x4.mul(blue(v), v128.load(backB + at));
    v128.store(
      lightness + at,
      f32x4.sub(f32x4.add(f32x4.add(f32x4.mul(r3, r), f32x4.mul(g3, g)), f32x4.mul(b3, b)), one),
    );
    v128.store(redGreen + at, f32x4.sub(r, g));
    v128.store(blueYellow + at, f32x4.sub(b, f32x4.mul(half, f32x4.add(r, g))));
  }
}

/** Lightness alone of n pixels of three bytes; the lines hold what each channel is to be multiplied by, its weight included. */
export function lightnessBytes(data: usize, byR: usize, byG: usize, byB: usize, n: i32, out: usize): void {
  const one = f32x4.splat(1);
  for (let x = 0; x < n; x += 4) {
    const at = (<usize>x) << 2;
    const v = v128.load(data + 3 * <usize>x);
    const r = f32x4.mul(red(v), v128.load(byR + at));
    const g = f32x4.mul(green(v), v128.load(byG + at));
    const b = f32x4.mul(blue(v), v128.load(byB + at));
    v128.store(out + at, f32x4.sub(f32x4.add(f32x4.add(r, g), b), one));
  }
}

/** Marks values that lie at least `grow` (1) or `seed` (2) times their noise from 0; tells whether any is marked 2. */
export function markLightness(values: usize, noise: usize, n: i32, grow: f32, seed: f32, mask: usize): i32 {
  const g = f32x4.splat(grow);
  const s = f32x4.splat(seed);
  let any = 0;
  for (let x = 0; x < n; x += 4) {
    const at = (<usize>x) << 2;
    const v = f32x4.abs(v128.load(values + at));
    const sigma = v128.load(noise + at);
    let weak = i32x4.bitmask(f32x4.ge(v, f32x4.mul(g, sigma)));
    if (weak === 0) continue;
    let strong = i32x4.bitmask(f32x4.ge(v, f32x4.mul(s, sigma)));
    if (n - x < 4) {
      weak &= (1 << (n - x)) - 1;
      strong &= (1 << (n - x)) - 1;
    }
    any |= strong;
    for (let k = 0; k < 4; k++) {
      if ((weak >> k) & 1) store<u8>(mask + x + k, (strong >> k) & 1 ? 2 : 1);
    }
  }
  return any;
}

/** As `markLightness`, for the distance of two colours; what is marked already is not marked less. Squared thresholds. */
export function markColour(
  a: usize,
  b: usize,
  noiseA: usize,
  noiseB: usize,
  n: i32,
  grow: f32,
  seed: f32,
  mask: usize,
): i32 {
  const g = f32x4.splat(grow);
  const s = f32x4.splat(seed);
  let any = 0;
  for (let x = 0; x < n; x += 4) {
    const at = (<usize>x) << 2;
    const u = f32x4.div(v128.load(a + at), v128.load(noiseA + at));
    const v = f32x4.div(v128.load(b + at), v128.load(noiseB + at));
    const z = f32x4.add(f32x4.mul(u, u), f32x4.mul(v, v));
    let weak = i32x4.bitmask(f32x4.ge(z, g));
    if (weak === 0) continue;
    let strong = i32x4.bitmask(f32x4.ge(z, s));
    if (n - x < 4) {
      weak &= (1 << (n - x)) - 1;
      strong &= (1 << (n - x)) - 1;
    }
    any |= strong;
    for (let k = 0; k < 4; k++) {
      if (!((weak >> k) & 1)) continue;
      if ((strong >> k) & 1) store<u8>(mask + x + k, 2);
      else if (load<u8>(mask + x + k) === 0) store<u8>(mask + x + k, 1);
    }
  }
  return any;
}

/** Second difference across a line, `across` values apart, of rows 1 to h − 2. Written in fours. */
export function bend(from: usize, w: i32, h: i32, across: i32, out: usize): void {
  const o = (<usize>across) << 2;
  const two = f32x4.splat(2);
  const end = (h - 1) * w - 1;
  for (let i = w + 1; i < end; i += 4) {
    const at = (<usize>i) << 2;
    const s = from + at;
    v128.store(
      out + at,
      f32x4.sub(f32x4.add(v128.load(s - o), v128.load(s + o)), f32x4.mul(two, v128.load(s))),
    );
  }
}

/**
 * Sum of 2 half + 1 values along a line, `step` values apart, at pixels from (x0, y0) to before (x1, y1); 0 elsewhere.
 * Written in fours.
 */
export function sumAlong(
  bends: usize,
  w: i32,
  h: i32,
  step: i32,
  half: i32,
  x0: i32,
  y0: i32,
  x1: i32,
  y1: i32,
  out: usize,
): void {
  const o = (<isize>step) << 2;
  memory.fill(out, 0, (<usize>y0 * w) << 2);
  for (let y = y0; y < y1; y++) {
    const row = y * w;
    for (let i = row + x0; i < row + x1; i += 4) {
      const at = (<usize>i) << 2;
      let s = v128.load(bends + at);
      for (let k: isize = 1; k <= half; k++) {
        s = f32x4.add(s, f32x4.add(v128.load(bends + at - k * o), v128.load(bends + at + k * o)));
      }
      v128.store(out + at, s);
    }
    memory.fill(out + ((<usize>row) << 2), 0, (<usize>x0) << 2);
    memory.fill(out + ((<usize>(row + x1)) << 2), 0, (<usize>(w - x1)) << 2);
  }
  memory.fill(out + ((<usize>y1 * w) << 2), 0, (<usize>(h - y1) * w) << 2);
}

/** The fourth power of a drawing, and it times the photograph and times the drawing. */
export function weigh(drawn: usize, seen: usize, n: i32, weight: usize, times: usize, power: usize): void {
  for (let i = 0; i < n; i += 4) {
    const at = (<usize>i) << 2;
    const d = v128.load(drawn + at);
    const d2 = f32x4.mul(d, d);
    const w = f32x4.mul(d2, d2);
    v128.store(weight + at, w);
    v128.store(times + at, f32x4.mul(w, v128.load(seen + at)));
    v128.store(power + at, f32x4.mul(w, d));
  }
}

/** Marks values beyond `weak` (1) and `strong` (2) either way, never less than before; tells whether any is marked 2. */
export function markBeyond(values: usize, n: i32, weak: f32, strong: f32, mask: usize): i32 {
  const g = f32x4.splat(weak);
  const s = f32x4.splat(strong);
  let any = 0;
  for (let x = 0; x < n; x += 4) {
    const v = f32x4.abs(v128.load(values + ((<usize>x) << 2)));
    let over = i32x4.bitmask(f32x4.ge(v, g));
    if (over === 0) continue;
    let sure = i32x4.bitmask(f32x4.ge(v, s));
    if (n - x < 4) {
      over &= (1 << (n - x)) - 1;
      sure &= (1 << (n - x)) - 1;
    }
    any |= sure;
    for (let k = 0; k < 4; k++) {
      if (!((over >> k) & 1)) continue;
      if ((sure >> k) & 1) store<u8>(mask + x + k, 2);
      else if (load<u8>(mask + x + k) === 0) store<u8>(mask + x + k, 1);
    }
  }
  return any;
}
