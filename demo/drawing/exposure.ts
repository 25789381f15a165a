import { type Canvas, encoded } from './canvas.ts';
import type { Chance } from './chance.ts';

export interface Lighting {
  /** Brightness at the far left/top against the right/bottom, as a share. */
  readonly slopeX: number;
  readonly slopeY: number;
  /** Loss at the corners, as a share. */
  readonly vignette: number;
  /** Slow unevenness, as a share. */
  readonly cloud: number;
  /** Colour cast, multiplies red, green, blue. */
  readonly cast: readonly [number, number, number];
}

const LATTICE = 32;

/** Lights the canvas unevenly: slope, vignette and a slow cloud, worked out on a coarse lattice between which light runs straight. */
export function lightUnevenly(canvas: Canvas, lighting: Lighting, chance: Chance): void {
  const { width, height, light } = canvas;
  const columns = Math.ceil(width / LATTICE) + 2;
  const rows = Math.ceil(height / LATTICE) + 2;
  const waves = [1, 2, 3, 4].map((i) => ({
    x: (chance.normal() * 3) / i / width,
    y: (chance.normal() * 3) / i / width,
    phase: chance.between(0, 6.28),
  }));
  const coarse = new Float32Array(columns * rows);
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      const u = (c * LATTICE) / width - 0.5;
      const v = (r * LATTICE) / height - 0.5;
      let value = 1 + lighting.slopeX * u + lighting.slopeY * v - lighting.vignette * 2 * (u * u + v * v);
      for (const w of waves) {
        value += 0.5 * lighting.cloud * Math.sin(6.28 * (w.x * c + w.y * r) * LATTICE + w.phase);
      }
      coarse[r * columns + c] = value;
    }
  }
  const [kr, kg, kb] = lighting.cast;
  for (let y = 0; y < height; y++) {
    const fy = y / LATTICE;
    const r = Math.floor(fy);
    const ty = fy - r;
    for (let c = 0, x = 0; x < width; c++) {
      const a = coarse[r * columns + c]! * (1 - ty) + coarse[(r + 1) * columns + c]! * ty;
      const b = coarse[r * columns + c + 1]! * (1 - ty) + coarse[(r + 1) * columns + c + 1]! * ty;
      const step = (b - a) / LATTICE;
      let value = a;
      for (const end = Math.min(width, (c + 1) * LATTICE); x < end; x++, value += step) {
        const at = (y * width + x) * 3;
        light[at] = light[at]! * value * kr;
        light[at + 1] = light[at + 1]! * value * kg;
        light[at + 2] = light[at + 2]! * value * kb;
      }
    }
  }
}

/** Blurs the whole canvas by a Gaussian with a faint wide skirt, as a lens a little out of focus does. */
export function blurLens(canvas: Canvas, sigma: number): void {
  const reach = Math.max(1, Math.ceil(sigma * 2.6));
  const kernel: number[] = [];
  for (let i = 0; i <= reach; i++) {
    kernel.push(Math.exp((-i * i) / (2 * sigma * sigma)) + 0.02 * Math.exp(-i / (1.2 * sigma)));
  }
  const sum = kernel.reduce((s, k, i) => s + (i === 0 ? k : 2 * k), 0);
  const k = kernel.map((v) => v / sum);
  const { width, height, light } = canvas;
  const length = width * 3;
  const row = new Float32Array(length + 6 * reach);
  for (let y = 0; y < height; y++) {
    const at = y * length;
    row.set(light.subarray(at, at + length), 3 * reach);
    for (let i = 0; i < reach; i++) {
      for (let c = 0; c < 3; c++) {
        row[i * 3 + c] = light[at + c]!;
        row[length + 3 * (reach + i) + c] = light[at + length - 3 + c]!;
      }
    }
    for (let i = 0; i < length; i++) light[at + i] = k[0]! * row[i + 3 * reach]!;
    for (let t = 1; t <= reach; t++) {
      const kt = k[t]!;
      const lo = 3 * (reach - t);
      const hi = 3 * (reach + t);
      for (let i = 0; i < length; i++) light[at + i] = light[at + i]! + kt * (row[i + lo]! + row[i + hi]!);
    }
  }
  const kept: Float32Array[] = [];
  for (let y = -reach; y < reach; y++)
    kept.push(light.slice(Math.max(0, y) * length, (Math.max(0, y) + 1) * length));
  for (let y = 0; y < height; y++) {
    const next = Math.min(height - 1, y + reach);
    kept.push(light.slice(next * length, (next + 1) * length));
    const at = y * length;
    const middle = kept[reach]!;
    for (let i = 0; i < length; i++) light[at + i] = k[0]! * middle[i]!;
    for (let t = 1; t <= reach; t++) {
      const kt = k[t]!;
      const above = kept[reach - t]!;
      const below = kept[reach + t]!;
      for (let i = 0; i < length; i++) light[at + i] = light[at + i]! + kt * (above[i]! + below[i]!);
    }
    kept.shift();
  }
}

export interface Sensor {
  readonly exposure: number;
  /** Noise of a white pixel as a share of white. */
  readonly shot: number;
  /** Noise of a black pixel as a share of white. */
  readonly read: number;
}

/** Light to sRGB bytes with noise that grows with the light; colour noise is softer than lightness noise, as after demosaicking. */
export function expose(canvas: Canvas, sensor: Sensor, chance: Chance): Uint8Array {
  const { width, height, light } = canvas;
  const steps = 4096;
  const curve = new Uint8Array(steps * 2);
  for (let i = 0; i < curve.length; i++) {
    const v = i / steps;
    // A soft shoulder, as cameras have: nothing clips before 1.3.
    const shouldered = v < 0.7 ? v : 0.7 + 0.3 * (1 - Math.exp(-(v - 0.7) / 0.3));
    curve[i] = Math.round(255 * encoded(Math.min(1, shouldered)));
  }
  const table = new Float32Array(65536);
  for (let i = 0; i < table.length; i++) table[i] = chance.normal();
  let state = chance.whole(1, 2 ** 31);
  const bytes = new Uint8Array(width * height * 3);
  const colour = [new Float32Array(width + 2), new Float32Array(width + 2)];
  for (let y = 0; y < height; y++) {
    for (let i = 0; i < width + 2; i++) {
      state = (Math.imul(state, 1664525) + 1013904223) | 0;
      // Half old, half new: colour noise runs a little downwards as well.
      colour[0]![i] = 0.6 * colour[0]![i]! + 0.8 * table[(state >>> 16) & 65535]!;
      colour[1]![i] = 0.6 * colour[1]![i]! + 0.8 * table[(state >>> 15) & 65535]!;
    }
    for (let x = 0; x < width; x++) {
      const at = (y * width + x) * 3;
      state = (Math.imul(state, 1664525) + 1013904223) | 0;
      const grey = table[(state >>> 16) & 65535]!;
      const warm = 0.33 * (colour[0]![x]! + colour[0]![x + 1]!);
      const cool = 0.33 * (colour[1]![x]! + colour[1]![x + 1]!);
      for (let c = 0; c < 3; c++) {
        const v = light[at + c]! * sensor.exposure;
        const size = sensor.read + sensor.shot * Math.sqrt(Math.max(0, v));
        const noise = 0.75 * grey + (c === 0 ? warm : c === 2 ? cool : -0.5 * (warm + cool));
        const step = (v + size * noise) * steps;
        bytes[at + c] = curve[step < 0 ? 0 : step >= curve.length ? curve.length - 1 : step | 0]!;
      }
    }
  }
  return bytes;
}
