/**
 * The print, modelled. A pixel in the zone of a printed line may be membrane, ink, or anything between (blurred rim,
 * thin or broken ink): every mixture of the two is explained by the print and is no evidence of a particle.
 * What lies off that mixture (darker than the ink, brighter than the membrane, another hue) is.
 */

import { kthSmallest, medianInPlace } from './robust.ts';
import type { Lattice } from './scale/lattice.ts';
import type { Survey } from './survey.ts';
import { fieldsAt, type TileField } from './tile-field.ts';

const NODE = 32;

/** What of a lattice tells where its lines are. */
export type LinePlaces = Pick<Lattice, 'map' | 'pitch' | 'umPerPx'>;

/** That part of a lattice, which is plain data. */
export const linePlaces = ({ map, pitch, umPerPx }: LinePlaces): LinePlaces => ({ map, pitch, umPerPx });

export interface PrintModel {
  readonly lattice: LinePlaces;
  /** Half the breadth of the zone around a line's middle, px. */
  readonly halfZone: number;
  /** Ink against membrane, each channel's (ink / membrane − 1). */
  readonly ink: readonly [number, number, number];
  /** How far along the ink's direction (1 is the typical ink) the print itself goes. */
  readonly deepest: number;
}

/** Distance of a pixel's middle from the nearest printed line, as `zoneRow` tells it, px. */
export function fromLine(lattice: LinePlaces, x: number, y: number): number {
  placeOn(lattice, x + 0.5, y + 0.5, FROM);
  const c = FROM[0]!;
  const r = FROM[1]!;
  const pitchPx = (lattice.pitch * 1000) / lattice.umPerPx;
  return Math.min(Math.abs(c - Math.round(c)), Math.abs(r - Math.round(r))) * pitchPx;
}

/** Column and row of a place, in two numbers that are used again: millions are asked for. */
const FROM = new Float64Array(2);
const TO = new Float64Array(2);

/** As `mapToGrid`, into `out`. */
function placeOn({ map }: LinePlaces, x: number, y: number, out: Float64Array): void {
  const qx = (x - map.centre[0]) / map.radius;
  const qy = (y - map.centre[1]) / map.radius;
  const r2 = qx * qx + qy * qy;
  const lens = 1 + r2 * (map.k1 + r2 * map.k2);
  const u = qx * lens;
  const v = qy * lens;
  const h = map.plane;
  const w = 1 + h[6] * u + h[7] * v;
  out[0] = (h[0] * u + h[1] * v + h[2]) / w;
  out[1] = (h[3] * u + h[4] * v + h[5]) / w;
}

/** Mark of a pixel near the zone of a printed line. */
export const BESIDE = 2;

/**
 * Marks the pixels of one row that lie in a printed line's zone with 1, those within `beyond` px of it with BESIDE, the
 * others with 0; tells whether any is marked.
 */
export function zoneRow(
  lattice: LinePlaces,
  halfZone: number,
  y: number,
  x0: number,
  step: number,
  n: number,
  out: Uint8Array,
  beyond = 0,
): boolean {
  out.fill(0, 0, n);
  let any = false;
  placeOn(lattice, x0 + 0.5, y + 0.5, FROM);
  const pitchPx = (lattice.pitch * 1000) / lattice.umPerPx;
  const half = halfZone / pitchPx;
  const far = (halfZone + beyond) / pitchPx;
  for (let k = 0; k < n; k += NODE) {
    const m = Math.min(NODE, n - k);
    placeOn(lattice, x0 + (k + m) * step + 0.5, y + 0.5, TO);
    for (let axis = 0; axis < 2; axis++) {
      const a = FROM[axis]!;
      const b = TO[axis]!;
      const low = Math.min(a, b) - far;
      const high = Math.max(a, b) + far;
      if (Math.ceil(low) > high) continue;
      const grow = (b - a) / m;
      for (let i = 0; i < m; i++) {
        const at = a + grow * i;
        const away = Math.abs(at - Math.round(at));
        if (away >= far) continue;
        any = true;
        if (away < half) out[k + i] = 1;
        else if (out[k + i] === 0) out[k + i] = BESIDE;
      }
    }
    FROM[0] = TO[0]!;
    FROM[1] = TO[1]!;
  }
  return any;
}

/** Half of the line's width at half depth, its blurred foot, and what the ink strays from the lattice. */
export const zoneBreadth = (lattice: Lattice): number => {
  const widths = lattice.lines.filter((l) => l.seen > 0.2).map((l) => l.widthPx / 2 + Math.abs(l.offsetPx));
  const typical = Math.max(
    lattice.print.widthPx / 2,
    widths.length > 2 ? medianInPlace(Float64Array.from(widths)) : 0,
  );
  return typical * 1.25 + 2 + 2 * lattice.residualPx;
};

function grown(values: Float64Array): Float64Array<ArrayBuffer> {
  const out = new Float64Array(2 * values.length);
  out.set(values);
  return out;
}

/** How far n colours, three numbers each, go along one. */
function along(colours: Float64Array, n: number, [r, g, b]: readonly [number, number, number]): Float64Array {
  const out = new Float64Array(n);
  for (let i = 0; i < n; i++)
    out[i] = colours[3 * i]! * r + colours[3 * i + 1]! * g + colours[3 * i + 2]! * b;
  return out;
}

/** Ink from the middle of the lines, where it is whole. Null without a lattice or when no ink can be told. */
export function modelPrint(
  survey: Survey,
  lattice: Lattice | null,
  background: readonly TileField[],
): PrintModel | null {
  if (!lattice) return null;
  const { reduced, factor, channels } = survey;
  const core = Math.max(0.6, lattice.print.widthPx * 0.2, factor * 0.5);
  const zone = new Uint8Array(reduced.width);
  // Red, green and blue by turns; grey three times.
  let held = new Float64Array(3 * 65536);
  let n = 0;
  const every = Math.max(1, Math.floor(reduced.height / 1200));
  const ground = new Float64Array(channels);
  for (let y = 0; y < reduced.height; y += every) {
    const py = (y + 0.5) * factor - 0.5;
    if (!zoneRow(lattice, core, py, factor / 2 - 0.5, factor, reduced.width, zone)) continue;
    for (let x = 0; x < reduced.width; x++) {
      if (!zone[x]) continue;
      const px = (x + 0.5) * factor - 0.5;
      fieldsAt(background, px, py, ground);
      if (3 * n + 3 > held.length) held = grown(held);
      for (let c = 0; c < 3; c++) {
        const k = Math.min(c, channels - 1);
        const value = reduced.data[(y * reduced.width + x) * channels + k]! / 65535;
        held[3 * n + c] = value / ground[k]! - 1;
      }
      n++;
    }
  }
  if (n < 20) return null;
  const strength = along(held, n, lattice.print.contrastRgb);
  // Broken ink leaves membrane in the core: the inked half of what is there tells the ink.
  const inked = kthSmallest(strength.slice(), n, Math.floor(n * 0.9)) * 0.5;
  const ink = [0, 0, 0] as [number, number, number];
  for (let c = 0; c < 3; c++) {
    const own = new Float64Array(n);
    let m = 0;
    for (let i = 0; i < n; i++) if (strength[i]! >= inked) own[m++] = held[3 * i + c]!;
    ink[c] = m > 0 ? medianInPlace(own, m) : 0;
  }
  const size = ink[0] ** 2 + ink[1] ** 2 + ink[2] ** 2;
  if (!(size > 1e-6)) return null;
  const depth = kthSmallest(along(held, n, ink), n, Math.floor(n * 0.95)) / size;
  const deepest = Math.max(1, Math.min(1.6, depth));
  return {
    lattice: linePlaces(lattice),
    halfZone: zoneBreadth(lattice),
    ink,
    deepest,
  };
}
