import { describe, expect, it } from 'vitest';
import { umPerPx } from '../../units/index.ts';
import type { Picture } from './finding.ts';
import { prepare } from './prepare.ts';
import { chanceFrom } from './scale/drawn-grid.ts';
import { keepSeeded, searchTile } from './significance.ts';
import { survey } from './survey.ts';

describe('keepSeeded', () => {
  it('keeps weak pixels that hang together with a strong one, corners included, and drops the others', () => {
    const mask = Uint8Array.from(
      [
        [1, 0, 0, 0, 1],
        [0, 2, 0, 0, 1],
        [0, 0, 1, 0, 0],
        [1, 1, 0, 0, 0],
      ].flat(),
    );
    keepSeeded(mask, 5, 4);
    expect([...mask]).toEqual(
      [
        [1, 0, 0, 0, 0],
        [0, 1, 0, 0, 0],
        [0, 0, 1, 0, 0],
        [1, 1, 0, 0, 0],
      ].flat(),
    );
  });

  it('keeps nothing without a strong pixel', () => {
    const mask = new Uint8Array(12).fill(1);
    keepSeeded(mask, 4, 3);
    expect(mask.every((v) => v === 0)).toBe(true);
  });
});

describe('searchTile', () => {
  const [width, height] = [480, 480];
  /** Membrane with noise; `change` gives what is added to it, in codes. */
  function membrane(change: (x: number, y: number) => number): Picture {
    const rnd = chanceFrom(3);
    const data = new Uint8Array(width * height * 3);
    for (let y = 0; y < height; y++) {
      for (let x = 0; x < width; x++) {
        const noise = (rnd() + rnd() + rnd() - 1.5) * 6;
        for (let c = 0; c < 3; c++) data[(y * width + x) * 3 + c] = 200 + change(x, y) + noise;
      }
    }
    return { width, height, channels: 3, data, full: 255 };
  }
  function marked(picture: Picture): Set<number> {
    const prepared = prepare(survey(picture), picture, {
      scale: { from: 'given', scale: umPerPx(5) },
      smallest: null,
      falseFindsPerBlank: 0.5,
    });
    const runs = searchTile({ picture, top: 0 }, prepared.membrane!, 0, 0, prepared.thresholds);
    const on = new Set<number>();
    for (let i = 0; i < runs.length; i += 3) {
      for (let x = runs[i + 1]!; x < runs[i + 2]!; x++) on.add(runs[i]! * width + x);
    }
    return on;
  }
  const disc = (x: number, y: number, cx: number, cy: number, r: number) => Math.hypot(x - cx, y - cy) <= r;

  it('marks what is darker and what is brighter, over its whole area', () => {
    const on = marked(membrane((x, y) => (disc(x, y, 120, 120, 9) ? -60 : disc(x, y, 330, 300, 9) ? 40 : 0)));
    for (const [cx, cy] of [
      [120, 120],
      [330, 300],
    ] as const) {
      let inside = 0;
      let seen = 0;
      for (let y = cy - 9; y <= cy + 9; y++) {
        for (let x = cx - 9; x <= cx + 9; x++) {
          if (!disc(x, y, cx, cy, 8)) continue;
          inside++;
          if (on.has(y * width + x)) seen++;
        }
      }
      expect(seen).toBe(inside);
    }
  });

  it('marks a wide faint patch whose single pixels drown in the noise', () => {
    const on = marked(membrane((x, y) => (disc(x, y, 240, 240, 30) ? -3 : 0)));
    let seen = 0;
    for (let y = 225; y < 255; y++) for (let x = 225; x < 255; x++) if (on.has(y * width + x)) seen++;
    expect(seen).toBeGreaterThan(700);
  });

  it('asks for a look at few places of an empty membrane', () => {
    // Blocks of the coarsest level are 16 px wide: one of them too many weighs 256 px. What is looked at is judged later.
    expect(marked(membrane(() => 0)).size).toBeLessThan(0.06 * width * height);
  });
});
