import { describe, expect, it } from 'vitest';
import { categoryDesign } from './category-design.ts';
import { netBySize } from './net-by-size.ts';
import { netInterval } from './net-interval.ts';
import { bandsOf, SIZE_BANDS } from './size-bands.ts';

const input = {
  portions: [
    { name: 'a', count: 7, massG: 2, passed: 0.5, examined: 1 },
    { name: 'b', count: 5, massG: 1, passed: 1, examined: 1 },
  ],
  controls: [{ name: 'c', kind: 'blank', count: 3, passed: 1, examined: 0.75 }],
  recovery: { found: 9, added: 10 },
  drill: null,
  confidence: 0.95,
};
const sized = (...sizes: number[]) => sizes.map((sizeUm) => ({ sizeUm, fibre: false }));
const sides = {
  specimens: sized(60, 70, 90, 120, 130, 150, 220, 240, 400, 450, 700, 900),
  controls: sized(80, 180, 800),
};

describe('net by size band', () => {
  const design = categoryDesign(input);

  // by hand: Σ e·m = 0.5·2 + 1·1 = 2 g seen, Σ e = 1.5 runs, controls 0.75 run
  it('takes its extents from the runs', () => {
    expect(design).toMatchObject({ gramEffort: 2, specimenEffort: 1.5, controlEffort: 0.75 });
    expect(design.shares).toEqual([{ found: 9, shown: 10 }]);
  });

  it.each(SIZE_BANDS.map((scheme) => scheme.id))('holds every particle and the same total: %s', (id) => {
    const { bands, below, above } = netBySize(sides, bandsOf(id), design, 50);
    const of = (side: 'specimens' | 'controls') => bands.reduce((sum, band) => sum + band[side], 0);
    expect([of('specimens'), of('controls'), below + above]).toEqual([12, 3, 0]);
    const net = bands.reduce((sum, band) => sum + (band.net ?? 0), 0);
    expect(net).toBeCloseTo(12 - (3 * 1.5) / 0.75, 12);
  });

  it('gives a band the interval of its own counts, and does not clip it', () => {
    const band = netBySize(sides, bandsOf('iso-24187'), design, 50).bands.find((b) => b.fromUm === 500)!;
    expect(band).toMatchObject({ specimens: 2, controls: 1, net: 0 });
    expect(band.perGram).toEqual(
      netInterval(
        { gross: 2, grossEffort: 2, background: 1, backgroundEffort: 1, shares: design.shares },
        0.95,
      ),
    );
    expect(band.perGram!.lower).toBeLessThan(0);
  });

  it('keeps “could not be seen” apart from none', () => {
    const { bands } = netBySize(sides, bandsOf('eu-2024-1441'), design, 55, (from) => (from < 100 ? 0.6 : 1));
    expect(bands[0]).toMatchObject({
      toUm: 50,
      seen: { kind: 'could-not-be-seen' },
      net: null,
      perGram: null,
    });
    expect(bands[1]).toMatchObject({ partlyOutOfSight: true, chanceOfFinding: 0.6 });
    expect(bands.at(-1)).toMatchObject({ seen: { kind: 'counted', count: 0 }, net: 0 });
  });

  it('keeps sizes that were seen and not asked about apart from those that could not be seen', () => {
    const asked = { fromUm: 100, toUm: 500 };
    const large = { specimens: sized(120, 240, 400), controls: sized(180) };
    const { bands } = netBySize(large, bandsOf('iso-24187'), design, 24, () => 1, asked);
    expect(bands.map((band) => [band.fromUm, band.seen.kind])).toEqual([
      [1, 'could-not-be-seen'],
      [5, 'could-not-be-seen'],
      [10, 'not-asked'],
      [50, 'not-asked'],
      [100, 'counted'],
      [500, 'not-asked'],
      [1000, 'not-asked'],
    ]);
    expect(bands[3]).toMatchObject({ net: null, perGram: null, chanceOfFinding: null });
    expect(bands[3]!.seen).toMatchObject({ because: 'the question is about sizes from 100 to 500 µm' });
    const eu = netBySize(large, bandsOf('eu-2024-1441'), design, 24, () => 1, { fromUm: 100, toUm: null });
    expect(eu.bands.map((band) => band.seen.kind)).toEqual([
      'not-asked',
      'not-asked',
      'counted',
      'counted',
      'counted',
    ]);
    const within = netBySize(large, bandsOf('eu-2024-1441'), design, 24, () => 1, {
      fromUm: 150,
      toUm: null,
    });
    expect(within.bands[2]).toMatchObject({ partlyNotAsked: true, partlyOutOfSight: false });
  });

  it('does not call none what nobody knows whether it could be seen', () => {
    const { bands } = netBySize(sides, bandsOf('iso-24187'), design, null);
    expect(bands.slice(0, 3).map((band) => band.seen.kind)).toEqual([
      'not-looked',
      'not-looked',
      'not-looked',
    ]);
    expect(bands.slice(0, 3).every((band) => band.net === null)).toBe(true);
    expect(bands.at(-1)).toMatchObject({ seen: { kind: 'counted', count: 0 } });
  });
});
