/**
 * Draws photographs of gridded membranes with exact truth, for the tests of this folder alone. The lens here bends the
 * other way round than the model that is fitted (true → photo is the polynomial), so that a test also meets mismatch.
 */
import type { Picture, Point } from '../finding.ts';

export interface GridDrawing {
  readonly width: number;
  readonly height: number;
  readonly seed: number;
  /** One printed pitch in px at the picture's middle; null: no grid. */
  readonly pitchPx: number | null;
  readonly rotationDeg?: number;
  /** Grid coordinates at the picture's middle. */
  readonly origin?: Point;
  /** Line width as a share of the pitch. */
  readonly lineShare?: number;
  /** Line minus membrane, as a share of white. */
  readonly depth?: number;
  readonly ink?: readonly [number, number, number];
  readonly k1?: number;
  readonly lensCentre?: Point;
  /** Share of ink missing in gaps. */
  readonly missing?: number;
  /** Standard deviation of blur, px. */
  readonly blur?: number;
  readonly noise?: number;
  readonly grain?: number;
  readonly membrane?: readonly [number, number, number];
  readonly shade?: number;
  readonly particles?: number;
  readonly fibres?: number;
  readonly stains?: number;
  readonly rim?: { readonly centre: Point; readonly radius: number; readonly beyond: number } | null;
  /** 'stripes' drops one direction, 'bricks' every other stretch of upright line; 'weave' draws waves instead of lines. */
  readonly pattern?: 'grid' | 'stripes' | 'bricks' | 'weave';
  /** Height of a cell divided by its width; 1 is a square. */
  readonly rowRatio?: number;
  readonly grey?: boolean;
}

/** Small seeded generator (Weyl sequence, mixed); for drawings only. */
export function chanceFrom(seed: number): () => number {
  let a = (seed * 0x9e3779b1) >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), a | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

const gauss = (rnd: () => number) => Math.sqrt(-2 * Math.log(1 - rnd())) * Math.cos(2 * Math.PI * rnd());

/** Standard normal distribution function to about 1e-4, enough to blur an edge. */
const edge = (z: number) => 1 / (1 + Math.exp(-z * (1.5976 + 0.07056 * z * z)));

/** Photo px → true plane px, undoing photo = c + (true − c)(1 + k r²). */
function untwist(d: GridDrawing, x: number, y: number): [number, number] {
  const k = d.k1 ?? 0;
  const [cx, cy] = d.lensCentre ?? [d.width / 2, d.height / 2];
  const dx = x - cx;
  const dy = y - cy;
  if (k === 0) return [dx, dy];
  const norm = Math.hypot(d.width, d.height) / 2;
  const rd = Math.hypot(dx, dy) / norm;
  let r = rd;
  for (let i = 0; i < 6; i++) r -= (r * (1 + k * r * r) - rd) / (1 + 3 * k * r * r);
  const s = rd > 0 ? r / rd : 1;
  return [dx * s, dy * s];
}

/** Photo px → grid coordinates of the drawing. */
export function drawnGridAt(d: GridDrawing, x: number, y: number): [number, number] {
  const a = ((d.rotationDeg ?? 0) * Math.PI) / 180;
  const [u, v] = untwist(d, x, y);
  const [u0, v0] = untwist(d, d.width / 2, d.height / 2);
  const p = d.pitchPx ?? 1;
  const [o0, o1] = d.origin ?? [0.37, 0.61];
  return [
    o0 + ((u - u0) * Math.cos(a) + (v - v0) * Math.sin(a)) / p,
    o1 + (-(u - u0) * Math.sin(a) + (v - v0) * Math.cos(a)) / (p * (d.rowRatio ?? 1)),
  ];
}

/** Gaps along a line: smooth noise of the line's own seed, thresholded to the wanted share. */
function gaps(seed: number, share: number): (t: number) => number {
  if (share <= 0) return () => 1;
  const rnd = chanceFrom(seed);
  const wave = Array.from({ length: 7 }, () => [2 + 25 * rnd(), 6.3 * rnd()] as const);
  const cut = share >= 1 ? 9 : (share - 0.5) * 3;
  return (t) => {
    let s = 0;
    for (const [f, p] of wave) s += Math.sin(f * t + p);
    return edge((s / 1.87 - cut) * 8);
  };
}

/** A smooth field of about unit spread on a coarse lattice of knots. */
function smoothField(rnd: () => number, width: number, height: number, knot: number) {
  const nx = Math.ceil(width / knot) + 2;
  const ny = Math.ceil(height / knot) + 2;
  const knots = Float32Array.from({ length: nx * ny }, () => gauss(rnd));
  return (x: number, y: number) => {
    const i = Math.floor(x / knot);
    const j = Math.floor(y / knot);
    const fx = x / knot - i;
    const fy = y / knot - j;
    const k = j * nx + i;
    return (
      (knots[k]! * (1 - fx) + knots[k + 1]! * fx) * (1 - fy) +
      (knots[k + nx]! * (1 - fx) + knots[k + nx + 1]! * fx) * fy
    );
  };
}

type Layer = (x: number, y: number, ink: Float32Array) => void;

function pieces(d: GridDrawing, rnd: () => number, value: Float32Array): void {
  const { width, height } = d;
  const stamp = (cx: number, cy: number, reach: number, layer: Layer) => {
    for (let y = Math.max(0, Math.floor(cy - reach)); y < Math.min(height, cy + reach); y++) {
      for (let x = Math.max(0, Math.floor(cx - reach)); x < Math.min(width, cx + reach); x++) {
        layer(x, y, value);
      }
    }
  };
  const size = d.pitchPx ?? 300;
  const blend = (at: number, alpha: number, tint: readonly number[]) => {
    for (let c = 0; c < 3; c++) value[at + c] = value[at + c]! * (1 - alpha) + tint[c]! * alpha;
  };
  for (let n = 0; n < (d.stains ?? 0); n++) {
    const [cx, cy, r] = [rnd() * width, rnd() * height, size * (0.3 + 0.9 * rnd())];
    const tint = [0.75, 0.62, 0.42];
    stamp(cx, cy, r * 1.3, (x, y) => {
      const q = Math.hypot(x - cx, y - cy) / r;
      blend((y * width + x) * 3, 0.45 * edge((1 - q) * 12), tint);
    });
  }
  for (let n = 0; n < (d.particles ?? 0); n++) {
    const [cx, cy] = [rnd() * width, rnd() * height];
    const r = size * (0.02 + 0.12 * rnd() ** 2);
    const tint = [rnd(), rnd(), rnd()];
    const [e, t] = [0.5 + rnd(), 3.14 * rnd()];
    stamp(cx, cy, r * 2.4, (x, y) => {
      const [a, b] = [
        ((x - cx) * Math.cos(t) + (y - cy) * Math.sin(t)) * e,
        (-(x - cx) * Math.sin(t) + (y - cy) * Math.cos(t)) / e,
      ];
      const wob = 1 + 0.2 * Math.sin(5 * Math.atan2(b, a) + n);
      blend((y * width + x) * 3, edge((r * wob - Math.hypot(a, b)) / (0.6 + (d.blur ?? 0.7))), tint);
    });
  }
  for (let n = 0; n < (d.fibres ?? 0); n++) {
    let [x0, y0, a] = [rnd() * width, rnd() * height, 6.28 * rnd()];
    const bend = (rnd() - 0.5) * 0.02;
    const tint = [rnd() * 0.5, rnd() * 0.5, rnd()];
    const w = Math.max(1, size * 0.006 * (1 + 2 * rnd()));
    for (let k = 0; k < size * 1.2; k++) {
      stamp(x0, y0, w + 2, (x, y) => {
        blend((y * width + x) * 3, 0.25 * edge((w - Math.hypot(x - x0, y - y0)) / 0.7), tint);
      });
      x0 += Math.cos(a);
      y0 += Math.sin(a);
      a += bend * (1 + 0.5 * Math.sin(k / 40));
    }
  }
}

/** The photograph. Values run from 0 to 255. */
export function drawGrid(d: GridDrawing): Picture {
  const { width, height } = d;
  const rnd = chanceFrom(d.seed + 11);
  const value = new Float32Array(width * height * 3);
  const membrane = d.membrane ?? [0.86, 0.85, 0.82];
  const depth = d.depth ?? -0.25;
  const ink = d.ink ?? [1, 1, 1];
  const share = d.lineShare ?? 0.03;
  const blur = d.blur ?? 0.8;
  const shade = smoothField(rnd, width, height, Math.max(width, height) / 2.2);
  const coarse = smoothField(rnd, width, height, 9);
  const fine = smoothField(rnd, width, height, 2.3);
  const grain = d.grain ?? 0.01;
  const lines = new Map<number, (t: number) => number>();
  const inkOf = (along: number, index: number) => {
    const key = along * 10_000 + index + 5000;
    let f = lines.get(key);
    if (!f) {
      f = gaps(d.seed * 131 + key, d.missing ?? 0);
      lines.set(key, f);
    }
    return f;
  };
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const at = (y * width + x) * 3;
      const light = 1 + (d.shade ?? 0.06) * shade(x, y);
      let line = 0;
      if (d.pitchPx !== null) {
        const [c, r] = drawnGridAt(d, x + 0.5, y + 0.5);
        if (d.pattern === 'weave') {
          line = 0.5 * (Math.cos(6.2832 * c) + Math.cos(6.2832 * r));
        } else {
          const half = (share * d.pitchPx) / 2;
          const ci = Math.round(c);
          const ri = Math.round(r);
          const dc = Math.abs(c - ci) * d.pitchPx;
          const dr = Math.abs(r - ri) * d.pitchPx * (d.rowRatio ?? 1);
          const across = (q: number) => edge((half - q) / blur) - edge((-half - q) / blur);
          const wall = d.pattern !== 'bricks' || Math.abs(ci + Math.floor(r)) % 2 === 0;
          if (wall && dc < half + 5 * blur) line = across(dc) * inkOf(0, ci)(r);
          if (d.pattern !== 'stripes' && dr < half + 5 * blur) {
            line = Math.max(line, across(dr) * inkOf(1, ri)(c));
          }
        }
      }
      const texture = 1 + grain * (coarse(x, y) + fine(x, y));
      for (let c = 0; c < 3; c++) value[at + c] = (membrane[c]! + depth * line * ink[c]!) * light * texture;
    }
  }
  pieces(d, rnd, value);
  if (d.rim) {
    const { centre, radius, beyond } = d.rim;
    for (let y = 0; y < height; y++) {
      for (let x = 0; x < width; x++) {
        const out = edge((Math.hypot(x + 0.5 - centre[0], y + 0.5 - centre[1]) - radius) / Math.max(1, blur));
        if (out < 1e-3) continue;
        const at = (y * width + x) * 3;
        const tone = beyond * (1 + 0.05 * coarse(x, y));
        for (let c = 0; c < 3; c++) value[at + c] = value[at + c]! * (1 - out) + tone * out;
      }
    }
  }
  const noise = d.noise ?? 0.008;
  const channels = d.grey ? 1 : 3;
  const data = new Uint8Array(width * height * channels);
  for (let i = 0; i < data.length; i++) {
    const v = d.grey ? (value[3 * i]! + value[3 * i + 1]! + value[3 * i + 2]!) / 3 : value[i]!;
    data[i] = Math.max(0, Math.min(255, Math.round(255 * (v + noise * gauss(rnd)))));
  }
  return { width, height, channels, data, full: 255 };
}
