import { encoded } from '../../../demo/drawing/canvas.ts';
import type { Chance } from '../../../demo/drawing/chance.ts';
import type { Planes } from './planes.ts';

export interface Camera {
  /** Light falls off over the field: (x, y) slope, and a warm or cool lamp. */
  readonly slope: readonly [number, number];
  readonly vignette: number;
  readonly cast: readonly [number, number, number];
  /** Gaussian blur, px. */
  readonly blur: number;
  /** Radius of the disc of confusion, px, at the worst corner; 0 sharp everywhere. */
  readonly defocus: number;
  /** Red and blue images are larger or smaller than the green by this share. */
  readonly fringe: number;
  /** Electrons of a white pixel: fewer is noisier. */
  readonly well: number;
  readonly readNoise: number;
  /** Overshoot at edges that telephones add; 0 none. */
  readonly sharpening: number;
  readonly contrast: number;
}

/** Lights, blurs, exposes and develops; the planes are used up. */
export function takePhoto(planes: Planes, camera: Camera, chance: Chance): Uint8Array {
  const { width, height, rgb } = planes;
  const tilt = chance.between(0, 6.283);
  rgb.forEach((plane, c) => {
    shine(plane, width, height, camera, camera.cast[c]!);
    if (camera.defocus > 0) tiltedFocus(plane, width, height, camera.defocus, tilt);
    gaussian(plane, width, height, camera.blur);
  });
  if (camera.fringe !== 0) {
    stretch(rgb[0], width, height, 1 + camera.fringe);
    stretch(rgb[2], width, height, 1 - camera.fringe);
  }
  rgb.forEach((plane, c) => {
    expose(plane, camera, chance.branch(`noise ${c}`));
    if (camera.sharpening > 0) sharpen(plane, width, height, camera.sharpening);
  });
  const bytes = new Uint8Array(width * height * 3);
  const table = new Uint8Array(8193);
  for (let i = 0; i < table.length; i++) {
    const v = Math.min(1, i / 6800);
    const s = encoded(v);
    table[i] = Math.round(255 * (s + camera.contrast * s * (1 - s) * (2 * s - 1)));
  }
  for (let i = 0; i < width * height; i++) {
    for (let c = 0; c < 3; c++) {
      bytes[i * 3 + c] = table[Math.min(8192, Math.max(0, Math.round(rgb[c]![i]! * 6800)))]!;
    }
  }
  return bytes;
}

function shine(plane: Float32Array, width: number, height: number, camera: Camera, gain: number): void {
  for (let y = 0; y < height; y++) {
    const v = y / height - 0.5;
    for (let x = 0; x < width; x++) {
      const u = x / width - 0.5;
      const r2 = u * u + v * v;
      plane[y * width + x] =
        plane[y * width + x]! *
        gain *
        (1 + camera.slope[0] * u + camera.slope[1] * v) *
        (1 - camera.vignette * r2 * (1 + r2));
    }
  }
}

/** Gaussian blur of a plane in place (exact kernel, cut at 3 sigma). */
export function gaussian(plane: Float32Array, width: number, height: number, sigma: number): void {
  if (sigma <= 0) return;
  const reach = Math.ceil(3 * sigma);
  const kernel = new Float32Array(2 * reach + 1);
  let sum = 0;
  for (let i = -reach; i <= reach; i++) sum += kernel[i + reach] = Math.exp((-i * i) / (2 * sigma * sigma));
  for (let i = 0; i < kernel.length; i++) kernel[i] = kernel[i]! / sum;
  const row = new Float32Array(width);
  for (let y = 0; y < height; y++) {
    const line = plane.subarray(y * width, (y + 1) * width);
    row.set(line);
    for (let x = 0; x < width; x++) {
      let v = 0;
      if (x >= reach && x < width - reach)
        for (let i = -reach; i <= reach; i++) v += kernel[i + reach]! * row[x + i]!;
      else {
        for (let i = -reach; i <= reach; i++) {
          v += kernel[i + reach]! * row[Math.min(width - 1, Math.max(0, x + i))]!;
        }
      }
      line[x] = v;
    }
  }
  const source = plane.slice();
  plane.fill(0);
  for (let y = 0; y < height; y++) {
    const to = plane.subarray(y * width, (y + 1) * width);
    for (let i = -reach; i <= reach; i++) {
      const from = Math.min(height - 1, Math.max(0, y + i)) * width;
      const k = kernel[i + reach]!;
      for (let x = 0; x < width; x++) to[x] = to[x]! + k * source[from + x]!;
    }
  }
}

/** Out of focus towards one side: the sharp and a disc-blurred image are mixed by place. */
function tiltedFocus(plane: Float32Array, width: number, height: number, radius: number, tilt: number): void {
  const soft = discBlur(plane, width, height, radius);
  const ux = Math.cos(tilt) / width;
  const uy = Math.sin(tilt) / height;
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const t = Math.min(1, Math.max(0, 0.5 + 1.1 * ((x - width / 2) * ux + (y - height / 2) * uy)));
      const i = y * width + x;
      plane[i] = plane[i]! * (1 - t) + soft[i]! * t;
    }
  }
}

/** Mean over a disc, by running sums along each of its rows. */
function discBlur(plane: Float32Array, width: number, height: number, radius: number): Float32Array {
  const r = Math.max(1, Math.round(radius));
  const to = new Float32Array(plane.length);
  const counts = new Float32Array(plane.length);
  const sums = new Float64Array(width + 1);
  const halves = Array.from({ length: 2 * r + 1 }, (_, i) =>
    Math.floor(Math.sqrt((radius + 0.3) ** 2 - Math.min(radius, Math.abs(i - r)) ** 2)),
  );
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) sums[x + 1] = sums[x]! + plane[y * width + x]!;
    for (let dy = -r; dy <= r; dy++) {
      const row = y + dy;
      if (row < 0 || row >= height) continue;
      const half = halves[dy + r]!;
      for (let x = 0; x < width; x++) {
        const a = Math.max(0, x - half);
        const b = Math.min(width, x + half + 1);
        to[row * width + x] = to[row * width + x]! + sums[b]! - sums[a]!;
        counts[row * width + x] = counts[row * width + x]! + b - a;
      }
    }
  }
  for (let i = 0; i < to.length; i++) to[i] = to[i]! / counts[i]!;
  return to;
}

/** Scales a plane about its middle (lateral chromatic aberration), bilinear. */
function stretch(plane: Float32Array, width: number, height: number, factor: number): void {
  const from = plane.slice();
  for (let y = 0; y < height; y++) {
    const v = Math.min(height - 1.001, Math.max(0, height / 2 + (y - height / 2) / factor));
    const r = Math.floor(v);
    const fy = v - r;
    for (let x = 0; x < width; x++) {
      const u = Math.min(width - 1.001, Math.max(0, width / 2 + (x - width / 2) / factor));
      const c = Math.floor(u);
      const fx = u - c;
      const at = r * width + c;
      plane[y * width + x] =
        (from[at]! * (1 - fx) + from[at + 1]! * fx) * (1 - fy) +
        (from[at + width]! * (1 - fx) + from[at + width + 1]! * fx) * fy;
    }
  }
}

/** Shot noise of counted electrons and read noise, each pixel and channel on its own. */
function expose(plane: Float32Array, camera: Camera, chance: Chance): void {
  const { well, readNoise } = camera;
  for (let i = 0; i < plane.length; i += 2) {
    const size = Math.sqrt(-2 * Math.log(1 - chance.next()));
    const angle = 2 * Math.PI * chance.next();
    const a = plane[i]!;
    plane[i] = a + (Math.sqrt(Math.max(0, a) / well) + readNoise) * size * Math.cos(angle);
    if (i + 1 < plane.length) {
      const b = plane[i + 1]!;
      plane[i + 1] = b + (Math.sqrt(Math.max(0, b) / well) + readNoise) * size * Math.sin(angle);
    }
  }
}

function sharpen(plane: Float32Array, width: number, height: number, amount: number): void {
  const soft = plane.slice();
  gaussian(soft, width, height, 1.3);
  for (let i = 0; i < plane.length; i++) plane[i] = plane[i]! + amount * (plane[i]! - soft[i]!);
}
