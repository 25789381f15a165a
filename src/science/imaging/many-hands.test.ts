import { describe, expect, it } from 'vitest';
import { mm } from '../../units/index.ts';
import { doErrand } from './errands.ts';
import { searchWhole } from './find.ts';
import { findByHands, searchByHands } from './find-by-hands.ts';
import { searchStrips } from './find-strips.ts';
import type { FindWish, Picture } from './finding.ts';
import { doTask, type Hands, oneHand, type Task } from './many-hands.ts';
import { prepare } from './prepare.ts';
import { chanceFrom, drawGrid } from './scale/drawn-grid.ts';
import { preparedFrom, preparedNote, type RowNote } from './strip-notes.ts';
import { survey } from './survey.ts';

const WISH: FindWish = {
  scale: { from: 'printed-grid', pitch: mm(3.1) },
  smallest: null,
  falseFindsPerBlank: 0.5,
};

/** A printed membrane over more than one tile, with dark discs; one lies across the tiles' border. */
function dotted(): Picture {
  const grid = drawGrid({
    width: 1300,
    height: 1000,
    seed: 3,
    pitchPx: 210,
    depth: -0.35,
    noise: 0.012,
    grain: 0.01,
  });
  const data = grid.data.slice();
  const chance = chanceFrom(11);
  const discs = Array.from(
    { length: 25 },
    () => [chance() * 1300, chance() * 1000, 3 + 9 * chance()] as const,
  );
  for (const [cx, cy, r] of [...discs, [960, 958, 14] as const]) {
    for (let y = Math.max(0, Math.floor(cy - r)); y < Math.min(1000, cy + r); y++) {
      for (let x = Math.max(0, Math.floor(cx - r)); x < Math.min(1300, cx + r); x++) {
        if (Math.hypot(x + 0.5 - cx, y + 0.5 - cy) > r) continue;
        for (let c = 0; c < grid.channels; c++) data[(y * 1300 + x) * grid.channels + c]! *= 0.5;
      }
    }
  }
  return { ...grid, data };
}

/** Works from copies of everything, as another thread does, last task first. */
const elsewhere = <T>(
  task: Task,
  n: number,
  rows: Parameters<Hands['tiles']>[0],
  ground: Parameters<Hands['tiles']>[1],
) => {
  const [r, g, t] = structuredClone([rows, ground, task] as const);
  const out: T[] = new Array(n);
  for (let i = n - 1; i >= 0; i--) out[i] = structuredClone(doTask(t, i, r, g)) as T;
  return Promise.resolve(out);
};
const others: Hands = {
  survey: async (seen) => structuredClone(survey(structuredClone(seen))),
  // Last errand first.
  errands: async (errands) =>
    structuredClone(errands)
      .toReversed()
      .map(doErrand)
      .toReversed()
      .map((a) => structuredClone(a)),
  room: oneHand.room,
  tiles: (rows, ground, tiles) => elsewhere({ tiles }, tiles.length, rows, ground),
  cut: (rows, ground, regions) => elsewhere({ regions }, regions.length, rows, ground),
};

describe('work shared out', () => {
  const picture = dotted();
  const prepared = prepare(survey(picture), picture, WISH);
  const alone = searchWhole(picture, prepared);

  it('has something to find, on print and across tiles', () => {
    expect(prepared.membrane?.print).not.toBeNull();
    expect(alone.particles.length).toBeGreaterThan(15);
    expect(alone.particles.some((p) => Math.hypot(p.centroidPx[0] - 960, p.centroidPx[1] - 958) < 2)).toBe(
      true,
    );
  });

  it('gives the particles of one hand, to the last digit', async () => {
    expect(JSON.stringify(await searchByHands(picture, prepared, oneHand))).toBe(JSON.stringify(alone));
    expect(JSON.stringify(await searchByHands(picture, prepared, others))).toBe(JSON.stringify(alone));
    expect(JSON.stringify(await findByHands(picture, WISH, others))).toBe(JSON.stringify(alone));
  });

  const { width, channels } = picture;
  const tops: number[] = [];
  const strips = {
    ...picture,
    strip: async (top: number, rows: number) => {
      expect(rows).toBeGreaterThan(0);
      tops.push(top);
      return {
        ...picture,
        height: rows,
        data: picture.data.slice(top * width * channels, (top + rows) * width * channels),
      };
    },
  };
  const watch = { progress: () => {}, stop: () => false };

  it('gives them in strips too, though the last tile row brings no new rows', async () => {
    expect(JSON.stringify(await searchStrips(strips, prepared, watch, others))).toBe(JSON.stringify(alone));
  });

  it('gives them too when it was broken off after the first tile row and goes on from its notes', async () => {
    const rows: RowNote[] = [];
    const noting = { earlier: null, add: (note: unknown) => rows.push(note as RowNote) };
    const afterOne = { ...watch, stop: () => rows.length > 0 };
    expect(await searchStrips(strips, prepared, afterOne, oneHand, noting)).toBeNull();
    expect(rows).toHaveLength(1);
    expect(rows[0]!.pieces.length).toBeGreaterThan(10);
    expect(rows[0]!.open.runs.length).toBeGreaterThan(0);
    // As from another process.
    const earlier = structuredClone({ prepared: preparedNote(prepared), rows });
    tops.length = 0;
    const gone = await searchStrips(strips, preparedFrom(earlier.prepared), watch, oneHand, {
      earlier,
      add: () => {},
    });
    expect(Math.min(...tops)).toBeGreaterThan(600);
    expect(JSON.stringify(gone)).toBe(JSON.stringify(alone));
  });
});
