import { describe, expect, it } from 'vitest';
import { mm, umPerPx } from '../../units/index.ts';
import { fromLine, type LinePlaces, modelPrint, zoneRow } from './print-model.ts';
import type { Lattice, LatticeMap } from './scale/lattice.ts';
import { latticeFrom } from './scale/lattice-make.ts';
import type { Survey } from './survey.ts';
import type { TileField } from './tile-field.ts';

const [width, height] = [400, 300];
const radius = Math.hypot(width, height) / 2;
/** Lines every 100 px: upright ones at x = 50, 150 …, level ones at y = 50, 150 …; turned by `deg` around the middle. */
function mapOf(deg = 0): LatticeMap {
  const a = (deg * Math.PI) / 180;
  const g = radius / 100;
  const plane = [g * Math.cos(a), g * Math.sin(a), 0.5, -g * Math.sin(a), g * Math.cos(a), 0, 0, 0] as const;
  return { centre: [200, 150], radius, k1: 0, k2: 0, plane };
}
const places = (deg = 0): LinePlaces => ({ map: mapOf(deg), pitch: mm(3), umPerPx: umPerPx(30) });

describe('zoneRow', () => {
  it('marks the pixels whose middles lie within half a zone of a line, and no others', () => {
    const out = new Uint8Array(width);
    expect(zoneRow(places(), 3, 100, 0, 1, width, out)).toBe(true);
    const marked = [...out.keys()].filter((x) => out[x]);
    expect(marked).toEqual([50, 150, 250, 350].flatMap((x) => [x - 3, x - 2, x - 1, x, x + 1, x + 2]));
  });

  it('marks a whole row along a level line, and nothing away from lines', () => {
    const out = new Uint8Array(width);
    zoneRow(places(), 3, 49.5, 0, 1, width, out);
    expect(out.every((v) => v === 1)).toBe(true);
    expect(zoneRow(places(), 3, 100, 60, 1, 80, out)).toBe(false);
  });

  it('marks what lies beside the zone apart from it', () => {
    const out = new Uint8Array(width);
    expect(zoneRow(places(), 2, 100, 40, 1, 20, out, 3)).toBe(true);
    expect([...out.subarray(0, 20)].join('')).toBe('00000222111122200000');
    // Beside one line and in the zone of another: in the zone.
    zoneRow(places(), 2, 49.5, 40, 1, 20, out, 3);
    expect(out.subarray(0, 20).every((v) => v === 1)).toBe(true);
    zoneRow(places(), 2, 53.5, 40, 1, 20, out, 3);
    expect([...out.subarray(0, 20)].join('')).toBe('22222222111122222222');
  });

  it('agrees with the distance to the nearest line on turned print, pixel by pixel', () => {
    const turned = places(7);
    const out = new Uint8Array(width);
    for (let y = 0; y < height; y += 17) {
      zoneRow(turned, 5, y, 0, 1, width, out);
      for (let x = 0; x < width; x++) {
        const away = fromLine(turned, x, y);
        if (Math.abs(away - 5) > 0.05) expect(out[x]).toBe(away < 5 ? 1 : 0);
      }
    }
  });
});

describe('modelPrint', () => {
  const ink = [0.4, 0.5, 0.6] as const;
  const lattice: Lattice = latticeFrom(
    {
      pitch: mm(3),
      relativeUncertainty: 1e-4,
      residualPx: 0.1,
      map: mapOf(),
      print: {
        widthPx: 6,
        contrast: -0.4,
        contrastRgb: [ink[0] - 0.8, ink[1] - 0.8, ink[2] - 0.8],
        profile: [0, -0.4, 0],
        profileStep: 3,
      },
      lines: [],
    },
    width,
    height,
  );
  const membrane: TileField = {
    cell: 64,
    columns: 1,
    rows: 1,
    origin: 32,
    values: Float32Array.of(0.8),
  };

  /** The drawn lines, every `gap`-th row of them left white. */
  function drawn(gap: number): Survey {
    const data = new Uint16Array(width * height * 3);
    for (let y = 0; y < height; y++) {
      for (let x = 0; x < width; x++) {
        const inked = fromLine(lattice, x, y) < 3 && (gap === 0 || (x + y) % gap !== 0);
        for (let c = 0; c < 3; c++) data[(y * width + x) * 3 + c] = 65535 * (inked ? ink[c]! : 0.8);
      }
    }
    const reduced = { width, height, channels: 3 as const, data, full: 65535 };
    return { width, height, channels: 3, full: 65535, factor: 1, reduced, samples: [] };
  }

  it('tells the ink against the membrane, channel by channel', () => {
    const print = modelPrint(drawn(0), lattice, [membrane, membrane, membrane])!;
    for (let c = 0; c < 3; c++) expect(print.ink[c]).toBeCloseTo(ink[c]! / 0.8 - 1, 3);
    expect(print.deepest).toBeCloseTo(1, 3);
    expect(print.halfZone).toBeGreaterThan(3);
  });

  it('is told the same ink where a third of it is broken off', () => {
    const print = modelPrint(drawn(3), lattice, [membrane, membrane, membrane])!;
    for (let c = 0; c < 3; c++) expect(print.ink[c]).toBeCloseTo(ink[c]! / 0.8 - 1, 3);
  });

  it('knows no print without a lattice', () => {
    expect(modelPrint(drawn(0), null, [membrane, membrane, membrane])).toBeNull();
  });
});
