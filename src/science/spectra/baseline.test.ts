import { expect, it } from 'vitest';
import { asymmetricBaseline, reweightedBaseline } from './baseline.ts';

/** Recomputed independently (dense solve) for x = 0…10, y = 1 + 0.1 x with a band of height 5. */
const y = Float64Array.from([0, 0, 0, 0, 2, 5, 2, 0, 0, 0, 0], (band, x) => 1 + 0.1 * x + band);

it.each([
  [
    100,
    0.01,
    [
      1.007659, 1.110167, 1.212599, 1.314778, 1.416404, 1.517029, 1.616404, 1.714778, 1.812599, 1.910167,
      2.007659,
    ],
  ],
  [
    10,
    0.01,
    [
      0.989385, 1.102213, 1.215052, 1.327692, 1.438437, 1.542844, 1.638437, 1.727692, 1.815052, 1.902213,
      1.989385,
    ],
  ],
  [1e5, 0.001, [1.001125, 1.101126, 1.201126]],
])('asymmetric least squares, λ %f, p %f', (lambda, p, expected) => {
  const z = asymmetricBaseline(y, p, { lambda });
  for (const [k, v] of expected.entries()) expect(z[k]).toBeCloseTo(v, 5);
});

it('finds a sloped, bent base under bands to a fiftieth of the highest', () => {
  const base = (x: number) => 0.2 + 0.4 * (x / 800) + 0.1 * Math.sin(x / 250);
  const band = (x: number, at: number, width: number) => Math.exp(-0.5 * ((x - at) / width) ** 2);
  const bands = (x: number) =>
    band(x, 120, 6) + 0.6 * band(x, 300, 12) + 0.8 * band(x, 310, 5) + 0.4 * band(x, 610, 8);
  const mixed = Float64Array.from(
    { length: 800 },
    (_, x) => base(x) + bands(x) + 0.002 * Math.sin(x * 12.9898),
  );
  const z = reweightedBaseline(mixed, { lambda: 1e5 });
  const worst = Math.max(...z.map((v, x) => Math.abs(v - base(x))));
  expect(worst).toBeLessThan(0.02);
});
