/** Normal blur of a plane, exact kernel cut at three standard deviations, the border repeated. */

import { takeFloats, withKernels } from './kernels/room.ts';

const kernels = new Map<number, Float32Array>();

function kernelOf(sigma: number): Float32Array {
  const key = Math.round(sigma * 64);
  const known = kernels.get(key);
  if (known) return known;
  const reach = Math.max(1, Math.ceil((3 * key) / 64));
  const kernel = new Float32Array(2 * reach + 1);
  let sum = 0;
  for (let i = -reach; i <= reach; i++) sum += kernel[i + reach] = Math.exp(-0.5 * ((i * 64) / key) ** 2);
  for (let i = 0; i < kernel.length; i++) kernel[i] = kernel[i]! / sum;
  kernels.set(key, kernel);
  return kernel;
}

/** `data` blurred by `sigma` px (to 1/64 px; below 1/8 px it is copied). */
export function gaussian(data: Float32Array, width: number, height: number, sigma: number): Float32Array {
  const n = width * height;
  const out = takeFloats(n);
  if (sigma < 0.125) {
    out.set(data);
    return out;
  }
  const kernel = kernelOf(sigma);
  const reach = kernel.length >> 1;
  const done = withKernels(4 * (3 * n + width), (room) => {
    const half = room.at(kernel.subarray(reach));
    const to = room.into(out);
    const line = room.space(4 * (width + 2 * reach + 8));
    room.kernels.convolve(room.at(data), width, height, half, reach, room.space(4 * n), to, line);
    return room.hand(to, out);
  });
  if (!done) convolvePlainly(data, width, height, kernel, out);
  return out;
}

/** Convolution with a symmetric kernel across and down: the reference for the compiled one. */
export function convolvePlainly(
  data: Float32Array,
  width: number,
  height: number,
  kernel: Float32Array,
  out: Float32Array,
): void {
  const reach = kernel.length >> 1;
  const across = new Float32Array(data.length);
  const line = new Float32Array(width + 2 * reach);
  for (let y = 0; y < height; y++) {
    const o = y * width;
    line.set(data.subarray(o, o + width), reach);
    line.fill(data[o]!, 0, reach);
    line.fill(data[o + width - 1]!, reach + width);
    const mid = kernel[reach]!;
    for (let x = 0; x < width; x++) {
      let v = mid * line[x + reach]!;
      for (let k = 1; k <= reach; k++)
        v += kernel[reach + k]! * (line[x + reach - k]! + line[x + reach + k]!);
      across[o + x] = v;
    }
  }
  const sum = new Float64Array(width);
  for (let y = 0; y < height; y++) {
    const o = y * width;
    const mid = kernel[reach]!;
    for (let x = 0; x < width; x++) sum[x] = mid * across[o + x]!;
    for (let k = 1; k <= reach; k++) {
      const up = Math.max(0, y - k) * width;
      const down = Math.min(height - 1, y + k) * width;
      const weight = kernel[reach + k]!;
      for (let x = 0; x < width; x++) sum[x] = sum[x]! + weight * (across[up + x]! + across[down + x]!);
    }
    out.set(sum, o);
  }
}
