// What stands out in a window around a candidate, pixel by pixel. AssemblyScript, see planes.ts. Written in fours.

/** Distance from the membrane in units of the noise; each channel comes with 1 / its noise. Without colour a is 0. */
export function strength(
  l: usize,
  a: usize,
  b: usize,
  n: i32,
  perL: f32,
  perA: f32,
  perB: f32,
  out: usize,
): void {
  const pl = f32x4.splat(perL);
  const pa = f32x4.splat(perA);
  const pb = f32x4.splat(perB);
  for (let i = 0; i < n; i += 4) {
    const at = (<usize>i) << 2;
    const x = f32x4.mul(v128.load(l + at), pl);
    let q = f32x4.mul(x, x);
    if (a !== 0) {
      const y = f32x4.mul(v128.load(a + at), pa);
      const z = f32x4.mul(v128.load(b + at), pb);
      q = f32x4.add(q, f32x4.add(f32x4.mul(y, y), f32x4.mul(z, z)));
    }
    v128.store(out + at, f32x4.sqrt(q));
  }
}

/** Sum of the squares of one or two planes beyond `off`, never below 0. Without a second plane b is 0. */
export function beyond(a: usize, b: usize, n: i32, off: f32, out: usize): void {
  const o = f32x4.splat(off);
  const zero = f32x4.splat(0);
  for (let i = 0; i < n; i += 4) {
    const at = (<usize>i) << 2;
    const x = v128.load(a + at);
    let q = f32x4.mul(x, x);
    if (b !== 0) {
      const y = v128.load(b + at);
      q = f32x4.add(q, f32x4.mul(y, y));
    }
    v128.store(out + at, f32x4.pmax(f32x4.sub(q, o), zero));
  }
}

/** Height from squared lightness and squared colour: colour weighs `alone` where lightness fails, `beside` where it serves. */
export function mix(
  light: usize,
  hue: usize,
  mostLight: usize,
  mostHue: usize,
  n: i32,
  alone: f32,
  beside: f32,
  out: usize,
): void {
  const w0 = f32x4.splat(alone);
  const step = f32x4.splat(beside - alone);
  const tiny = f32x4.splat(1e-12);
  const low = f32x4.splat(0.5);
  const range = f32x4.splat(0.7);
  const zero = f32x4.splat(0);
  const one = f32x4.splat(1);
  for (let i = 0; i < n; i += 4) {
    const at = (<usize>i) << 2;
    const q = f32x4.div(v128.load(mostLight + at), f32x4.add(v128.load(mostHue + at), tiny));
    const ratio = f32x4.div(f32x4.sqrt(q), w0);
    const t = f32x4.pmin(f32x4.pmax(f32x4.div(f32x4.sub(ratio, low), range), zero), one);
    const c = f32x4.add(w0, f32x4.mul(step, t));
    const h = f32x4.mul(f32x4.mul(c, c), v128.load(hue + at));
    v128.store(out + at, f32x4.sqrt(f32x4.add(v128.load(light + at), h)));
  }
}

/** Half of the height nearby, the contrast against it, and 1 where it is reached and the strength is at least `grow`. */
export function halfHeight(
  contrast: usize,
  high: usize,
  around: usize,
  z: usize,
  n: i32,
  halo: f32,
  least: f32,
  grow: f32,
  level: usize,
  field: usize,
  mask: usize,
): void {
  const half = f32x4.splat(0.5);
  const ring = f32x4.splat(halo);
  const floor = f32x4.splat(least);
  const bound = f32x4.splat(grow);
  const one = f32x4.splat(1);
  const zero = f32x4.splat(0);
  for (let i = 0; i < n; i += 4) {
    const at = (<usize>i) << 2;
    const h = f32x4.mul(half, v128.load(high + at));
    const r = f32x4.mul(ring, v128.load(around + at));
    const v = f32x4.pmax(f32x4.pmax(h, r), floor);
    const f = f32x4.sub(f32x4.div(v128.load(contrast + at), v), one);
    v128.store(level + at, v);
    v128.store(field + at, f);
    const inside = v128.and(f32x4.ge(f, zero), f32x4.ge(v128.load(z + at), bound));
    const bits = i32x4.bitmask(inside);
    store<u32>(mask + i, (bits & 1) | ((bits & 2) << 7) | ((bits & 4) << 14) | ((bits & 8) << 21));
  }
}

/** The rectangle of `rows` rows of `bytes` bytes whose first byte is `from`, out of a plane of `stride` bytes a row. */
export function crop(from: usize, stride: i32, bytes: i32, rows: i32, out: usize): void {
  for (let y = 0; y < rows; y++) memory.copy(out + <usize>(y * bytes), from + <usize>(y * stride), bytes);
}
