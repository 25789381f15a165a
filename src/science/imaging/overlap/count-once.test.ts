import { describe, expect, it } from 'vitest';
import type { GridSquare, Point } from '../finding.ts';
import { chanceFrom } from '../scale/drawn-grid.ts';
import { countOnce } from './count-once.ts';
import { type Field, printUm, type Sighting } from './field.ts';
import { linkFields } from './lay-together.ts';
import { sharedNeeded } from './place-fields.ts';

const PITCH = 3100;
const UM = 4;
const W = 3000;
const H = 2000;

interface Drawn {
  readonly at: Point;
  readonly size: number;
  readonly lab: readonly [number, number, number];
}

function scattered(n: number, width: number, height: number, seed: number): Drawn[] {
  const chance = chanceFrom(seed);
  return Array.from({ length: n }, () => ({
    at: [chance() * width, chance() * height],
    size: 40 + 260 * chance() ** 2,
    lab: [20 + 70 * chance(), 80 * (chance() - 0.5), 80 * (chance() - 0.5)],
  }));
}

/** What a camera sees whose photograph's corner lies at `corner` µm, turned by `turn`; middles are off by some tenths of a px. */
function photograph(
  all: readonly Drawn[],
  corner: Point,
  turn: number,
  seed: number,
  more: { readonly print?: boolean; readonly stage?: boolean } = {},
): { field: Field; shows: number[] } {
  const chance = chanceFrom(seed);
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const toPx = ([x, y]: Point): Point => {
    const [dx, dy] = [(x - corner[0]) / UM, (y - corner[1]) / UM];
    return [c * dx + s * dy, -s * dx + c * dy];
  };
  const shows: number[] = [];
  const sightings: Sighting[] = [];
  all.forEach((d, i) => {
    const [x, y] = toPx(d.at);
    const r = d.size / UM / 2;
    if (x < -0.5 * r || y < -0.5 * r || x > W + 0.5 * r || y > H + 0.5 * r) return;
    const touchesFrame = x < r || y < r || x > W - r || y > H - r;
    const width = Math.min(W, x + r) - Math.max(0, x - r);
    const height = Math.min(H, y + r) - Math.max(0, y - r);
    shows.push(i);
    sightings.push({
      centroidPx: [
        (Math.min(W, x + r) + Math.max(0, x - r)) / 2 + (chance() - 0.5),
        (Math.min(H, y + r) + Math.max(0, y - r)) / 2 + (chance() - 0.5),
      ],
      areaPx2: (Math.PI / 4) * width * height * (0.97 + 0.06 * chance()),
      feretMaxPx: Math.max(width, height) * (0.97 + 0.06 * chance()),
      touchesFrame,
      lab: [d.lab[0] + 4 * (chance() - 0.5), d.lab[1], d.lab[2]],
    });
  });
  const squares: GridSquare[] = [];
  const reach = (W + H) * UM;
  const first = [Math.floor((corner[0] - reach) / PITCH), Math.floor((corner[1] - reach) / PITCH)] as const;
  const inView: [number, number, Point[]][] = [];
  for (let j = first[1]; j * PITCH < corner[1] + reach; j++) {
    for (let i = first[0]; i * PITCH < corner[0] + reach; i++) {
      const corners = [
        [i, j],
        [i + 1, j],
        [i + 1, j + 1],
        [i, j + 1],
      ].map(([u, v]) => toPx([u! * PITCH, v! * PITCH]));
      if (corners.some(([x, y]) => x > 0 && y > 0 && x < W && y < H)) inView.push([i, j, corners]);
    }
  }
  // Every photograph counts its squares from its own corner.
  const [i0, j0] = [Math.min(...inView.map((q) => q[0])), Math.min(...inView.map((q) => q[1]))];
  for (const [i, j, corners] of inView)
    squares.push({
      square: [i - i0, j - j0],
      cornersPx: corners as unknown as GridSquare['cornersPx'],
      whole: true,
    });
  return {
    shows,
    field: {
      widthPx: W,
      heightPx: H,
      umPerPx: UM,
      print: more.print === false ? null : { pitchUm: PITCH, squares },
      sightings,
      stageUm: more.stage ? [corner[0] + 60 * (chance() - 0.5), corner[1] + 60 * (chance() - 0.5)] : null,
    },
  };
}

/** How often each drawn particle that is in view counts. */
function timesCounted(
  views: readonly { shows: number[] }[],
  counts: readonly (readonly boolean[])[],
): number[] {
  const times = new Map<number, number>();
  views.forEach(({ shows }, f) => {
    shows.forEach((i, s) => {
      times.set(i, (times.get(i) ?? 0) + (counts[f]![s] ? 1 : 0));
    });
  });
  return [...times.values()];
}

describe('overlapping fields of one filter', () => {
  const all = scattered(160, 28_000, 16_000, 5);
  const corners: Point[] = [
    [100, 200],
    [9_600, 350],
    [19_000, 60],
    [300, 6_900],
    [9_900, 7_100],
    [18_700, 6_800],
  ];

  it('reads places off the print, whatever the turn', () => {
    const { field, shows } = photograph(all, [5_000, 4_000], 0.3, 1);
    const toUm = printUm(field)!;
    const far = shows.map((i, s) => {
      const [x, y] = toUm(field.sightings[s]!.centroidPx);
      return [x - all[i]!.at[0], y - all[i]!.at[1], field.sightings[s]!.touchesFrame] as const;
    });
    const whole = far.filter((d) => !d[2]);
    expect(whole.length).toBeGreaterThan(20);
    for (const [dx, dy] of whole) {
      expect(Math.abs(dx - Math.round(dx / PITCH) * PITCH)).toBeLessThan(UM);
      expect(Math.abs(dy - Math.round(dy / PITCH) * PITCH)).toBeLessThan(UM);
    }
  });

  it('places six printed photographs and counts every particle once', () => {
    const views = corners.map((c, k) => photograph(all, c, 0.01 * (k - 2), 20 + k));
    const found = countOnce(views.map((v) => v.field));
    expect(found.places.map((p) => p?.by)).toEqual(['first', 'print', 'print', 'print', 'print', 'print']);
    const times = timesCounted(views, found.counts);
    expect(times.length).toBeGreaterThan(130);
    expect(times.filter((n) => n === 0)).toEqual([]);
    expect(times.filter((n) => n !== 1).length).toBeLessThanOrEqual(2);
    // By hand: without the overlaps, well above 20 would have been counted twice.
    expect(views.reduce((n, v) => n + v.shows.length, 0) - times.length).toBeGreaterThan(20);
  });

  it('prefers a sighting that somebody decided on, be it cut or later', () => {
    const views = corners.map((c, k) => photograph(all, c, 0, 40 + k));
    const [f, s] = countOnce(views.map((v) => v.field)).same[0]!.at(-1)!;
    const fields = views.map(({ field }, at) => ({
      ...field,
      sightings: field.sightings.map((one, k) => ({ ...one, decided: at === f && k === s })),
    }));
    const found = countOnce(fields);
    expect(found.counts[f]![s]).toBe(true);
    expect(found.same.find((group) => group.some(([g, k]) => g === f && k === s))![0]).toEqual([f, s]);
  });

  it('prefers the sighting that no frame cuts', () => {
    const views = corners.map((c, k) => photograph(all, c, 0, 40 + k));
    const found = countOnce(views.map((v) => v.field));
    for (const group of found.same) {
      const cut = group.map(([f, s]) => views[f]!.field.sightings[s]!.touchesFrame);
      if (cut.includes(false)) expect(cut[0]).toBe(false);
      expect(new Set(group.map(([f, s]) => views[f]!.shows[s])).size).toBe(1);
    }
  });

  it('places by particles alone where there is no print, though the camera turned a little', () => {
    const views = corners
      .slice(0, 3)
      .map((c, k) =>
        photograph(all, [c[0] - 3_500 * k, c[1]], [0, 0.021, -0.017][k]!, 60 + k, { print: false }),
      );
    const found = countOnce(views.map((v) => v.field));
    expect(found.places.map((p) => p?.by)).toEqual(['first', 'particles', 'particles']);
    const times = timesCounted(views, found.counts);
    expect(times.filter((n) => n !== 1).length).toBeLessThanOrEqual(2);
    expect(found.places[1]!.turnRad).toBeCloseTo(0.021, 2);
    // Frames of 12 × 8 mm, each 6 mm further on.
    expect(found.viewUm2 / (12_000 * 8_000)).toBeGreaterThan(1.85);
    expect(found.viewUm2 / (12_000 * 8_000)).toBeLessThan(2.15);
  });

  it('takes the stage for the pitch where no particle is shared', () => {
    const few = all.slice(0, 6);
    const views = [
      [0, 0],
      [11_000, 0],
    ].map((c, k) => photograph(few, c as unknown as Point, 0, 80 + k, { stage: true }));
    const found = countOnce(views.map((v) => v.field));
    expect(found.places[1]?.by).toBe('stage');
    expect(timesCounted(views, found.counts).every((n) => n === 1)).toBe(true);
  });

  it('has no place for photographs that share nothing, and lets each count its own', () => {
    const far = scattered(30, 12_000, 8_000, 99).map((d) => ({
      ...d,
      at: [d.at[0] + 90_000, d.at[1]] as const,
    }));
    const views = [photograph(all, [0, 0], 0, 1), photograph(far, [90_000, 0], 0, 2)];
    const found = countOnce(views.map((v) => v.field));
    expect(found.places).toEqual([null, null]);
    expect(found.counts[1]!.every((c) => c)).toBe(true);
  });

  it('joins nothing where nothing overlaps: twenty photographs of other places, print and all', () => {
    const views = Array.from({ length: 20 }, (_, k) =>
      photograph(scattered(40, 12_000, 8_000, 500 + k), [10, 20], 0.002 * k, 700 + k),
    );
    const found = countOnce(views.map((v) => v.field));
    expect(found.same).toEqual([]);
    expect(found.places.every((place) => place === null)).toBe(true);
  });

  it('asks for more shared particles the more there are that look alike', () => {
    // By hand: 5 look-alikes × 0.0002 = 0.001, the limit itself, so one is not enough; 0.001²/2 = 5e-7 is.
    expect(sharedNeeded(5, 0.0002, 1)).toBe(2);
    expect(sharedNeeded(4, 0.0002, 1)).toBe(1);
    // By hand: mean 0.2: 0.2, 0.02, 0.0013, 0.00007.
    expect(sharedNeeded(1000, 0.0002, 1)).toBe(4);
  });

  it('is the same photograph by photograph: links of what was there before stay', () => {
    const fields = corners.map((c, k) => photograph(all, c, 0.01 * (k - 2), 20 + k).field);
    const before = linkFields(fields.slice(0, 5));
    const links = [...before, ...linkFields(fields, (index) => index === 5)];
    expect(countOnce(fields, links)).toEqual(countOnce(fields));
    expect(links.length).toBeGreaterThan(before.length);
  });

  it('lays apart what hangs together apart', () => {
    const far = scattered(160, 28_000, 16_000, 6);
    const views = [
      photograph(far, corners[0]!, 0, 31),
      ...corners.slice(0, 2).map((c, k) => photograph(all, c, 0.01 * k, 20 + k)),
      photograph(far, corners[1]!, 0, 32),
    ];
    const found = countOnce(views.map((v) => v.field));
    expect(found.places.map((place) => place?.part)).toEqual([0, 1, 1, 0]);
    expect(found.same.every(([one, other]) => one![0] + other![0] === 3)).toBe(true);
  });

  it('places by the largest pieces where there are thousands, and still counts each once', () => {
    const many = scattered(2500, 20_000, 8_000, 9).map((d) => ({ ...d, size: d.size / 4 }));
    const views = [
      [0, 0],
      [8_000, 0],
    ].map((c, k) => photograph(many, c as unknown as Point, 0, 90 + k, { print: k < 2 }));
    expect(views[0]!.field.sightings.length).toBeGreaterThan(1000);
    const found = countOnce(views.map((v) => v.field));
    const times = timesCounted(views, found.counts);
    expect(times.filter((n) => n !== 1).length).toBeLessThanOrEqual(times.length / 100);
  });

  it('needs a photograph', () => {
    expect(() => countOnce([])).toThrow(RangeError);
  });
});
