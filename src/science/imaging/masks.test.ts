/** Parts, distances, kept marks and medians against the slow and plain way of working them out. */
import { describe, expect, it } from 'vitest';
import { connectedParts } from './connected.ts';
import { distanceInside } from './distance.ts';
import { medianInPlace, quantileInPlace, quantileOfSorted } from './robust.ts';
import { keepSeeded } from './significance.ts';

/** Evenly spread numbers from a seed. Source of the method: Park and Miller, Commun. ACM 31 (1988) 1192–1201. */
function numbers(seed: number): () => number {
  let at = seed;
  return () => {
    at = (at * 48271) % 2147483647;
    return at / 2147483647;
  };
}

const next = numbers(5);

const masks = Array.from({ length: 60 }, () => {
  const width = 1 + Math.floor(30 * next());
  const height = 1 + Math.floor(30 * next());
  const share = next();
  return { width, height, mask: Uint8Array.from({ length: width * height }, () => (next() < share ? 1 : 0)) };
});

/** Parts by flooding from each pixel that has no label yet. */
function flooded(mask: Uint8Array, width: number, height: number, eight: boolean): number[] {
  const label = new Array<number>(mask.length).fill(0);
  let count = 0;
  for (let start = 0; start < mask.length; start++) {
    if (!mask[start] || label[start]) continue;
    count++;
    const open = [start];
    label[start] = count;
    for (let i = open.pop(); i !== undefined; i = open.pop()) {
      for (let dy = -1; dy <= 1; dy++) {
        for (let dx = -1; dx <= 1; dx++) {
          const [x, y] = [(i % width) + dx, Math.floor(i / width) + dy];
          if (x < 0 || y < 0 || x >= width || y >= height || (!eight && dx !== 0 && dy !== 0)) continue;
          const k = y * width + x;
          if (!mask[k] || label[k]) continue;
          label[k] = count;
          open.push(k);
        }
      }
    }
  }
  return label;
}

describe('parts that hang together', () => {
  it.each([true, false])(
    'are those of flooding, numbered alike, with sizes and boxes (eight: %s)',
    (eight) => {
      for (const { width, height, mask } of masks) {
        const parts = connectedParts(mask, width, height, eight);
        const label = flooded(mask, width, height, eight);
        expect([...parts.label]).toEqual(label);
        for (let k = 1; k <= parts.count; k++) {
          const own = label.flatMap((l, i) => (l === k ? [i] : []));
          const xs = own.map((i) => i % width);
          const ys = own.map((i) => Math.floor(i / width));
          expect(parts.sizes[k]).toBe(own.length);
          expect(parts.boxes[k]).toEqual({
            x0: Math.min(...xs),
            y0: Math.min(...ys),
            x1: Math.max(...xs) + 1,
            y1: Math.max(...ys) + 1,
          });
        }
      }
    },
  );

  it('are kept where one of their pixels is sure', () => {
    for (const { width, height, mask } of masks) {
      const marks = mask.map((m) => (m && next() < 0.1 ? 2 : m));
      const label = flooded(mask, width, height, true);
      const sure = new Set(label.filter((_, i) => marks[i] === 2));
      keepSeeded(marks, width, height);
      expect([...marks]).toEqual(label.map((l) => (l > 0 && sure.has(l) ? 1 : 0)));
    }
  });
});

describe('distance to the outside', () => {
  it('is that to the nearest pixel outside, beyond the window included', () => {
    for (const { width, height, mask } of masks) {
      const found = distanceInside(mask, width, height);
      const inside = (x: number, y: number) =>
        x >= 0 && y >= 0 && x < width && y < height && mask[y * width + x] === 1;
      for (let i = 0; i < mask.length; i++) {
        const [x, y] = [i % width, Math.floor(i / width)];
        let nearest = mask[i] ? Number.POSITIVE_INFINITY : 0;
        for (let v = -1; mask[i] && v <= height; v++) {
          for (let u = -1; u <= width; u++)
            if (!inside(u, v)) nearest = Math.min(nearest, Math.hypot(u - x, v - y));
        }
        expect(found[i]).toBeCloseTo(nearest, 5);
      }
    }
  });
});

describe('medians and quantiles', () => {
  it.each([5, 6, 999, 1000, 20_000, 20_001])('of %i values are those of sorting them', (n) => {
    for (const spread of [1, 7]) {
      // Many alike, as codes are, and a few far off.
      const values = Float32Array.from({ length: n }, () =>
        next() < 0.01 ? 900 * next() : Math.round(spread * 10 * next()) / 10,
      );
      const sorted = values.slice().sort();
      const middle = 0.5 * (sorted[(n - 1) >> 1]! + sorted[n >> 1]!);
      expect(medianInPlace(values.slice())).toBe(middle);
      for (const q of [0, 0.3, 0.88, 1])
        expect(quantileInPlace(values.slice(), n, q)).toBe(quantileOfSorted(sorted, n, q));
    }
  });
});
