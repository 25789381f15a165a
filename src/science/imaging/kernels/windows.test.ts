/** What works in the room of the kernels against the same work in ordinary memory, where the plain functions serve. */
import { describe, expect, it } from 'vitest';
import { bodyAt } from '../half-height.ts';
import { lightnessAlone, opponentPlanes, type PhotoRows } from '../lightness.ts';
import { type Plane, plane } from '../pyramid.ts';
import { weighPlainly } from '../refine-outline.ts';
import { beyondNoise, mixed, type RegionWindow, strengthOf } from '../region-window.ts';
import { ridges } from '../ridge.ts';
import { fieldRow, type TileField } from '../tile-field.ts';
import { inRoom, kernelRoom, takeBytes, takeFloats } from './room.ts';

/** Evenly spread numbers from a seed. Source of the method: Park and Miller, Commun. ACM 31 (1988) 1192–1201. */
function numbers(seed: number): () => number {
  let at = seed;
  return () => {
    at = (at * 48271) % 2147483647;
    return at / 2147483647;
  };
}

const next = numbers(11);
const some = (n: number): Float32Array => Float32Array.from({ length: n }, () => next() - 0.5);
const held = (data: Float32Array): Float32Array => {
  const own = takeFloats(data.length);
  own.set(data);
  return own;
};

const apart = (a: ArrayLike<number>, b: ArrayLike<number>): number => {
  expect(a.length).toBe(b.length);
  let most = 0;
  for (let i = 0; i < a.length; i++) most = Math.max(most, Math.abs(a[i]! - b[i]!));
  return most;
};

const room = kernelRoom()!;
const W = 187;
const H = 121;

describe('in the room of the kernels', () => {
  it('a row of a field is as outside', () => {
    const values = Float32Array.from({ length: 35 }, () => 0.5 + next());
    const field: TileField = { cell: 40, columns: 7, rows: 5, origin: 20, values };
    for (const [y, x0, step, n] of [
      [3, 0, 1, 300],
      [77.5, -32, 1, 320],
      [150, -15.5, 16, 20],
      [61, 90, 2, 60],
    ] as const) {
      const out = new Float32Array(n);
      fieldRow(field, y, x0, step, n, out);
      const inside = inRoom(() => {
        const line = takeFloats(n);
        fieldRow(field, y, x0, step, n, line);
        return line.slice();
      });
      expect(apart(inside, out)).toBeLessThan(1e-6);
    }
  });

  it('colours against the membrane are as outside, at the photograph’s rim too', () => {
    const data = Uint8Array.from({ length: W * H * 3 }, () => Math.floor(256 * next()));
    const rows: PhotoRows = { picture: { width: W, height: H, channels: 3, full: 255, data }, top: 0 };
    const background = [0, 1, 2].map(
      (): TileField => ({
        cell: 64,
        columns: 3,
        rows: 2,
        origin: 32,
        values: Float32Array.from({ length: 6 }, () => 0.6 + 0.3 * next()),
      }),
    );
    const planesOf = () => opponentPlanes(rows, background, null, -16, -16, W + 32, H + 32, null);
    const plain = planesOf();
    const alone = lightnessAlone(rows, background, 3, 2, W - 10, H - 10);
    inRoom(() => {
      expect(apart(lightnessAlone(rows, background, 3, 2, W - 10, H - 10), alone)).toBeLessThan(1e-6);
      const own = planesOf();
      expect(own.lightness.buffer).toBe(room.floats(0, 1).buffer);
      for (const name of ['lightness', 'redGreen', 'blueYellow'] as const)
        expect(apart(own[name], plain[name])).toBeLessThan(1e-6);
    });
  });

  it('thin lines of every direction are marked as outside', () => {
    for (const [dx, dy] of [
      [1, 0],
      [0, 1],
      [1, 1],
      [1, -1],
    ] as const) {
      const from: Plane = plane(W, H);
      for (let i = 0; i < from.data.length; i++) from.data[i] = 0.02 * (next() - 0.5);
      for (let k = -40; k <= 40; k++) from.data[(60 + k * dy) * W + 90 + k * dx]! -= 0.1;
      const plain = ridges(from, 6, 3.5)!;
      const inside = inRoom(() => ridges({ ...from, data: held(from.data) }, 6, 3.5)!.slice());
      expect(plain[60 * W + 90]).toBe(2);
      let other = 0;
      for (let i = 0; i < plain.length; i++) if (plain[i] !== inside[i]) other++;
      expect(other).toBe(0);
    }
  });

  it('marks are set where a value reaches its thresholds', () => {
    const values = some(203);
    const noise = Float32Array.from(values, () => 0.05 + 0.1 * next());
    const mask = new Uint8Array(203);
    const colour = new Uint8Array(203).fill(1, 0, 50);
    const other = some(203);
    values.forEach((v, i) => {
      const z = Math.abs(v) / noise[i]!;
      if (z >= 2) mask[i] = z >= 4 ? 2 : 1;
      const z2 = z * z + (other[i]! / noise[i]!) ** 2;
      if (z2 >= 30) colour[i] = 2;
      else if (z2 >= 9) colour[i] = 1;
    });
    inRoom(() => {
      const [v, n, o] = [held(values), held(noise), held(other)].map((p) => p.byteOffset) as [
        number,
        number,
        number,
      ];
      const own = takeBytes(203).fill(0);
      expect(room.kernels.markLightness(v, n, 203, 2, 4, own.byteOffset)).not.toBe(0);
      expect(own.slice()).toEqual(mask);
      own.fill(0).fill(1, 0, 50);
      expect(room.kernels.markColour(v, o, n, n, 203, 9, 30, own.byteOffset)).not.toBe(0);
      expect(own.slice()).toEqual(colour);
      expect(room.kernels.markLightness(v, n, 203, 90, 99, own.byteOffset)).toBe(0);
    });
  });

  it('strength, contrast and half height are as outside', () => {
    const [l, a, b] = [some(W * H), some(W * H), some(W * H)];
    const window = { width: W, height: H } as RegionWindow;
    const sigma = [0.05, 0.07, 0.09] as const;
    const all = (l: Float32Array, a: Float32Array, b: Float32Array) => {
      const z = takeFloats(l.length);
      strengthOf(l, a, b, sigma, z);
      const contrast = mixed(beyondNoise(l, null, 0.01), beyondNoise(a, b, 0.02), W, H);
      const body = bodyAt(window, { step: 0, l, a, b, sigma, z }, contrast, 3);
      const bare = mixed(beyondNoise(l, null, 0.01), null, W, H);
      return { z, contrast, bare, ...body };
    };
    const plain = all(l, a, b);
    inRoom(() => {
      const own = all(held(l), held(a), held(b));
      expect(apart(own.z, plain.z)).toBeLessThan(1e-5);
      for (const name of ['contrast', 'bare', 'level', 'field'] as const)
        expect(apart(own[name], plain[name])).toBeLessThan(1e-5);
      let other = 0;
      for (let i = 0; i < plain.mask.length; i++) if (plain.mask[i] !== own.mask[i]) other++;
      expect(other / plain.mask.length).toBeLessThan(1e-4);
      expect(plain.mask.includes(1)).toBe(true);
    });
  });

  it('a drawing weighs as outside', () => {
    const [drawn, seen] = [some(501), some(501)];
    const plain = [0, 0, 0].map(() => new Float32Array(501)) as [Float32Array, Float32Array, Float32Array];
    weighPlainly(drawn, seen, ...plain);
    inRoom(() => {
      const own = plain.map(() => takeFloats(501));
      const [w, t, p] = own.map((o) => o.byteOffset) as [number, number, number];
      room.kernels.weigh(held(drawn).byteOffset, held(seen).byteOffset, 501, w, t, p);
      for (const [k, o] of own.entries()) expect(apart(o, plain[k]!)).toBeLessThan(1e-7);
    });
  });
});
