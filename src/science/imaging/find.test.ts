import { describe, expect, it } from 'vitest';
import { mm, umPerPx } from '../../units/index.ts';
import { classicalFinder, searchWhole } from './find.ts';
import { searchStrips, surveyStrips } from './find-strips.ts';
import type { FindWish, Picture } from './finding.ts';
import { prepare } from './prepare.ts';
import { chanceFrom, drawGrid } from './scale/drawn-grid.ts';
import { survey } from './survey.ts';

const WISH: FindWish = {
  scale: { from: 'given', scale: umPerPx(5) },
  smallest: null,
  falseFindsPerBlank: 0.5,
};
const watch = { progress: () => {}, stop: () => false };

/** A plain membrane with noise and dark discs. */
function discs(width: number, height: number, at: readonly (readonly [number, number, number])[]): Picture {
  const rnd = chanceFrom(7);
  const data = new Uint8Array(width * height * 3);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      let cover = 0;
      for (const [cx, cy, r] of at) {
        cover = Math.max(cover, Math.min(1, Math.max(0, r + 0.5 - Math.hypot(x + 0.5 - cx, y + 0.5 - cy))));
      }
      const noise = (rnd() + rnd() + rnd() - 1.5) * 8;
      for (let c = 0; c < 3; c++) data[(y * width + x) * 3 + c] = 215 - 110 * cover + noise;
    }
  }
  return { width, height, channels: 3, data, full: 255 };
}

describe('the classical finder', () => {
  const at = [
    [60, 70, 6],
    [200, 120, 10],
    [420, 300, 16],
    [110, 380, 4],
  ] as const;
  const picture = discs(640, 480, at);
  const finding = classicalFinder.find(picture, WISH);

  it('finds drawn discs where they lie, as large as they are, and nothing else', () => {
    expect(finding.particles).toHaveLength(at.length);
    for (const [x, y, r] of at) {
      const p = finding.particles.find((q) => Math.hypot(q.centroidPx[0] - x, q.centroidPx[1] - y) < 0.6)!;
      expect(Math.abs(p.feretMaxPx / (2 * r) - 1)).toBeLessThan(0.1);
      expect(Math.abs(p.areaPx2 / (Math.PI * r * r) - 1)).toBeLessThan(0.15);
      expect(p.colour).toBe('grey');
      expect(p.areaUm2).toBeCloseTo(p.areaPx2 * 25, 6);
    }
  });

  it('gives the same finding again, to the last digit', () => {
    expect(JSON.stringify(classicalFinder.find(picture, WISH))).toBe(JSON.stringify(finding));
  });

  it('finds next to nothing on empty membranes', () => {
    let found = 0;
    for (let seed = 1; seed <= 2; seed++) {
      const empty = drawGrid({
        width: 800,
        height: 600,
        seed,
        pitchPx: 190,
        depth: -0.35,
        noise: 0.015,
        grain: 0.02,
      });
      found += classicalFinder.find(empty, { ...WISH, scale: { from: 'printed-grid', pitch: mm(3.1) } })
        .particles.length;
    }
    expect(found).toBeLessThanOrEqual(2);
  });

  it('finds in strips what it finds in one piece', async () => {
    const tall = discs(500, 2100, [
      [100, 955, 9],
      [300, 962, 20],
      [400, 1919, 7],
      [50, 300, 12],
    ]);
    // A fibre down the whole picture: its region is closed when most of its rows are no longer held.
    for (let y = 60; y < 2040; y++) {
      const x = 240 + Math.round(12 * Math.sin(y / 90));
      tall.data.fill(90, (y * 500 + x) * 3, (y * 500 + x + 6) * 3);
    }
    const strips = {
      ...tall,
      strip: async (top: number, rows: number) => ({
        ...tall,
        height: rows,
        data: tall.data.slice(top * 1500, (top + rows) * 1500),
      }),
    };
    const seen = (await surveyStrips(strips, watch))!;
    const whole = survey(tall);
    expect(seen.reduced.data.every((v, i) => v === whole.reduced.data[i])).toBe(true);
    expect(JSON.stringify(seen.samples)).toBe(JSON.stringify(whole.samples));
    const prepared = prepare(seen, null, WISH);
    const inStrips = await searchStrips(strips, prepared, watch);
    expect(inStrips!.particles).toHaveLength(5);
    expect(JSON.stringify(inStrips)).toBe(JSON.stringify(searchWhole(tall, prepared)));
  });

  it('stops between strips when told to', async () => {
    expect(
      await surveyStrips({ ...picture, strip: async () => picture }, { ...watch, stop: () => true }),
    ).toBeNull();
  });
});
