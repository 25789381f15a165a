/** The compiled kernels against the plain functions that they stand for, on planes of all small and some large sizes. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { growPlainly } from '../connected.ts';
import { distanceInside, distancePlainly } from '../distance.ts';
import { convolvePlainly } from '../gaussian.ts';
import { localMaxPlainly } from '../local-max.ts';
import { halvePlainly, type Plane, plane, smoothPlainly } from '../pyramid.ts';
import { bytesWithin, floatsWithin } from '../region-window.ts';
import { inRoom, kernelRoom, takeBytes, takeFloats, withKernels } from './room.ts';

/** Evenly spread numbers from a seed. Source of the method: Park and Miller, Commun. ACM 31 (1988) 1192–1201. */
function numbers(seed: number): () => number {
  let at = seed;
  return () => {
    at = (at * 48271) % 2147483647;
    return at / 2147483647;
  };
}

const random = (width: number, height: number, seed = 7): Plane => {
  const next = numbers(seed + width * 1009 + height);
  return { width, height, data: Float32Array.from({ length: width * height }, next) };
};

const SIZES = [
  [1, 1],
  [1, 9],
  [2, 3],
  [3, 2],
  [5, 1],
  [7, 7],
  [16, 5],
  [33, 31],
  [67, 40],
  [300, 211],
] as const;

const room = kernelRoom()!;

/** Largest difference of two planes. */
const apart = (a: ArrayLike<number>, b: ArrayLike<number>): number => {
  expect(a.length).toBe(b.length);
  let most = 0;
  for (let i = 0; i < a.length; i++) most = Math.max(most, Math.abs(a[i]! - b[i]!));
  return most;
};

/** Runs a kernel on a copy of `from` in the room, and takes n floats out. */
const compute = (from: Plane, n: number, run: (at: number, out: number) => void): Float32Array =>
  withKernels(0, () => {
    const out = room.space(4 * n);
    run(room.at(from.data), out);
    return room.floats(out, n).slice();
  })!;

describe('compiled kernels', () => {
  it('are what their source gives', { timeout: 60_000 }, async () => {
    const script = new URL('../../../../scripts/kernels.mjs', import.meta.url);
    const { compiledText } = await import(script.href);
    const stored = readFileSync(fileURLToPath(new URL('./compiled.ts', import.meta.url)), 'utf8');
    expect(await compiledText()).toBe(stored);
  });

  it('run on this machine', () => {
    expect(kernelRoom()).not.toBeNull();
  });

  it.each(SIZES)('smooth %i × %i px as the plain function does', (w, h) => {
    const from = random(w, h);
    const into = plane(w, h);
    smoothPlainly(from, into);
    const line = (out: number, at: number) => room.kernels.smooth(at, w, h, out, room.space(4 * (w + 8)));
    expect(
      apart(
        compute(from, w * h, (at, out) => line(out, at)),
        into.data,
      ),
    ).toBeLessThan(2e-7);
  });

  it.each(SIZES)('halve %i × %i px as the plain function does', (w, h) => {
    const from = random(w, h);
    const into = plane(w >> 1, h >> 1);
    halvePlainly(from, into);
    const found = compute(from, into.data.length, (at, out) => room.kernels.halve(at, w, h, out));
    expect(apart(found, into.data)).toBeLessThan(2e-7);
  });

  it.each(SIZES)('blur %i × %i px as the plain function does', (w, h) => {
    const from = random(w, h);
    for (const reach of [1, 4, 9]) {
      const half = Array.from({ length: reach + 1 }, (_, k) => 0.3 / (1 + k));
      const kernel = Float32Array.from([...half.slice(1).reverse(), ...half]);
      const plain = new Float32Array(w * h);
      convolvePlainly(from.data, w, h, kernel, plain);
      const found = compute(from, w * h, (at, out) => {
        const side = room.at(Float32Array.from(half));
        const line = room.space(4 * (w + 2 * reach + 8));
        room.kernels.convolve(at, w, h, side, reach, room.space(4 * w * h), out, line);
      });
      expect(apart(found, plain)).toBeLessThan(2e-6);
    }
  });

  it.each(SIZES)('take the largest nearby of %i × %i px exactly', (w, h) => {
    const from = random(w, h);
    for (const r of [1, 3, 5, 16]) {
      const plain = new Float32Array(w * h);
      localMaxPlainly(from.data, w, h, r, plain);
      const found = compute(from, w * h, (at, out) => {
        const rows = room.space(4 * w * (h + 2 * r));
        room.kernels.localMax(at, w, h, r, out, rows, room.space(4 * (w + 2 * r + 16)));
      });
      expect(apart(found, plain)).toBe(0);
    }
  });

  it.each(SIZES)('grow a mask of %i × %i px exactly', (w, h) => {
    const mask = Uint8Array.from(random(w, h, 3).data, (v) => (v < 0.02 ? 1 : 0));
    for (const r of [1, 2, 6, 24]) {
      const plain = new Uint8Array(w * h);
      growPlainly(mask, w, h, r, plain);
      const found = withKernels(0, () => {
        const out = room.space(w * h);
        const rows = room.space(w * (h + 2 * r));
        room.kernels.dilate(room.at(mask), w, h, r, out, rows, room.space(w + 2 * r + 64));
        return room.bytes(out, w * h).slice();
      })!;
      expect(apart(found, plain)).toBe(0);
    }
  });
});

describe('distances inside a shape', () => {
  const mask = (w: number, h: number, share: number) =>
    Uint8Array.from(random(w, h, 11).data, (v) => (v < share ? 1 : 0));

  it.each(SIZES)('are on %i × %i px those of the plain function, exactly', (w, h) => {
    for (const share of [0, 0.5, 0.97, 1]) {
      const shape = mask(w, h, share);
      const found = inRoom(() => {
        const held = takeBytes(w * h);
        held.set(shape);
        return distanceInside(held, w, h).slice();
      });
      expect(apart(found, distancePlainly(shape, w, h, new Float32Array(w * h)))).toBe(0);
    }
  });

  it('are those to the nearest pixel outside, each tried', () => {
    const [w, h] = [23, 17];
    const shape = mask(w, h, 0.93);
    const found = distancePlainly(shape, w, h, new Float32Array(w * h));
    for (let y = 0; y < h; y++) {
      for (let x = 0; x < w; x++) {
        let nearest = shape[y * w + x] ? Number.POSITIVE_INFINITY : 0;
        for (let v = -1; v <= h; v++) {
          for (let u = -1; u <= w; u++) {
            const within = u >= 0 && v >= 0 && u < w && v < h && shape[v * w + u] === 1;
            if (!within) nearest = Math.min(nearest, Math.hypot(u - x, v - y));
          }
        }
        expect(found[y * w + x]).toBeCloseTo(nearest, 5);
      }
    }
  });
});

describe('parts of planes', () => {
  it('hold the same numbers whether cut in the room or beside it', () => {
    const from = random(61, 40);
    const bytes = Uint8Array.from(from.data, (v) => v * 255);
    const at = { x0: 7, y0: 3, x1: 52, y1: 39 };
    inRoom(() => {
      const floats = takeFloats(from.data.length);
      floats.set(from.data);
      const held = takeBytes(bytes.length);
      held.set(bytes);
      const found = floatsWithin(floats, 61, at);
      expect(found[0]).toBe(from.data[3 * 61 + 7]);
      expect(apart(found, floatsWithin(from.data, 61, at))).toBe(0);
      expect(apart(bytesWithin(held, 61, at), bytesWithin(bytes, 61, at))).toBe(0);
    });
  });
});

describe('the room', () => {
  it('takes planes back at the end of the work, and gives ordinary memory outside of it', () => {
    const before = room.mark();
    inRoom(() => {
      expect(takeFloats(1000).buffer).toBe(room.floats(0, 1).buffer);
      expect(room.mark()).toBeGreaterThan(before);
    });
    expect(room.mark()).toBe(before);
    expect(takeFloats(1000).buffer).not.toBe(room.floats(0, 1).buffer);
  });

  it('gives ordinary memory where it is full', () => {
    inRoom(() => {
      expect(takeFloats(2e7).length).toBe(2e7);
      expect(withKernels(1e9, () => 1)).toBeNull();
    });
  });
});
