/** One piece of a part: its outline, its middle line when thin, its colour, and the evidence for it. */
import { type Lab, labAgainst } from './colour-name.ts';
import { grow } from './connected.ts';
import { distanceInside } from './distance.ts';
import { fitFibre } from './fibre-profile.ts';
import type { Point } from './finding.ts';
import { takeBytes, takeFloats } from './kernels/room.ts';
import type { PhotoRows } from './lightness.ts';
import { type ContrastSheet, lightPlanes, linearContrast } from './linear-contrast.ts';
import { hasHighlight, manyHued } from './many-hued.ts';
import type { Membrane } from './membrane.ts';
import { longestWay, smoothWay, thin, wayLength } from './middle-line.ts';
import { calm, lengthOf, levelLines, lineArea } from './outline.ts';
import type { Part } from './part.ts';
import type { Piece } from './piece.ts';
import { refineOutline } from './refine-outline.ts';
import { ROUNDS } from './region-window.ts';
import { ribbon } from './ribbon.ts';
import { kthSmallest } from './robust.ts';
import { fieldRow } from './tile-field.ts';

/** Piece `s` of the part's labels; null when nothing encloses an area. `known` are its distances, where they are known. */
export function pieceFrom(
  part: Part,
  label: Int32Array,
  s: number,
  way: readonly number[] | null,
  known: Float32Array | null,
  rows: PhotoRows,
  membrane: Membrane,
  ribbonHalf: number | null = null,
): Piece | null {
  const { width, height, x0, y0 } = part;
  const n = width * height;
  const own = takeBytes(n).fill(0);
  let size = 0;
  for (let i = 0; i < n; i++) {
    if (label[i] !== s) continue;
    own[i] = 1;
    size++;
  }
  if (size < 4) return null;
  const rim = outlineOf(part, own, label);
  if (!rim) return null;
  const distance = known ?? distanceInside(own, width, height);
  let thick = 0;
  for (let i = 0; i < n; i++) thick = Math.max(thick, distance[i]!);
  const sight = sightOf(part, own, label, distance, rows, membrane);
  const thread = way && sight ? fibreAlong(part, own, distance, rim, way, sight) : null;
  const fitted = thread || !sight ? rim : borneOut(refineOutline(rim, sight.sheet, sight), rim);
  const area = lineArea(fitted);
  const line =
    thread ?? (way || area > 9 * thick * thick ? middleLine(part, own, distance, area, way) : null);
  // Where fibres cross, pixels go to one of them alone: the other's rim is drawn along its line.
  const drawn = thread ? thread.width / 2 : ribbonHalf;
  const outline = line && drawn !== null ? ribbon(line.points, drawn) : fitted;
  if (lineArea(outline) < 0) outline.reverse();
  let touchesFrame = false;
  for (const [x, y] of outline) {
    if (x <= 0.75 || y <= 0.75 || x >= membrane.width - 0.75 || y >= membrane.height - 0.75)
      touchesFrame = true;
  }
  const look = lookInside(part, own, distance, rows, membrane);
  let onPrint = 0;
  if (part.zone) {
    for (const [x, y] of outline) {
      const u = Math.min(width - 1, Math.max(0, Math.floor(x - x0)));
      const v = Math.min(height - 1, Math.max(0, Math.floor(y - y0)));
      if (part.zone[v * width + u]) onPrint++;
    }
  }
  return {
    outline,
    line: line === null ? null : line.points,
    lineWidth: line === null ? null : drawn === null ? line.width : 2 * drawn,
    ...look,
    touchesFrame,
    evidence: {
      ...look.evidence,
      ridge: line ? Math.hypot(look.evidence.lightness, look.evidence.colour) : 0,
      sharpness: sharpness(part, own, distance),
      onPrint: onPrint / outline.length,
    },
  };
}

/** A refined outline takes in no more than this factor of the area (project choice). */
const MOST_GROWN = 1.8;

/** The refined outline, unless light and shade of the same piece have led it astray. */
const borneOut = (refined: Point[], rim: Point[]): Point[] =>
  Math.abs(lineArea(refined)) < MOST_GROWN * Math.abs(lineArea(rim)) ? refined : rim;

/** The photograph around a piece in linear light, and where it does not show the piece alone. */
interface Sight {
  readonly sheet: ContrastSheet;
  readonly blur: number;
  readonly smoothing: number;
  readonly hidden: Uint8Array | null;
}

/** Null where bright and dark parts leave no one height to tell an edge by. */
function sightOf(
  part: Part,
  own: Uint8Array,
  label: Int32Array,
  distance: Float32Array,
  rows: PhotoRows,
  membrane: Membrane,
): Sight | null {
  const { x0, y0, width, height, zone, whose } = part;
  let deep = 0;
  for (let i = 0; i < own.length; i++) deep = Math.max(deep, distance[i]!);
  const depth = Math.min(deep * 0.6, 3);
  const core = takeBytes(own.length);
  const strange = takeBytes(own.length);
  let strangers = 0;
  for (let i = 0; i < own.length; i++) {
    core[i] = own[i] && distance[i]! >= depth ? 1 : 0;
    strange[i] = !own[i] && (label[i]! > 0 || whose[i] === 2) ? 1 : 0;
    strangers += strange[i]!;
  }
  part.light.planes ??= lightPlanes(rows, membrane, x0, y0, width, height);
  const sheet = linearContrast(part.light.planes, core, x0, y0, width, height);
  if (!sheet) return null;
  const beside = strangers > 0 ? grow(strange, width, height, 2) : null;
  const hidden = zone && beside ? beside : (zone ?? beside);
  if (zone && beside) for (let i = 0; i < beside.length; i++) if (zone[i]) beside[i] = 1;
  return { sheet, blur: membrane.blurPx ?? 1, smoothing: Math.sqrt(ROUNDS[part.step]! / 2), hidden };
}

/** A thin piece by the light across its line. */
function fibreAlong(
  part: Part,
  own: Uint8Array,
  distance: Float32Array,
  rim: Point[],
  way: readonly number[],
  sight: Sight,
): { points: Point[]; width: number } | null {
  const rough = middleLine(part, own, distance, lineArea(rim), way);
  if (!rough) return null;
  const { sheet, blur, hidden } = sight;
  const fit = fitFibre(rough.points, sheet, { blur, hidden, rough: rough.width, most: sheet.most });
  return fit && wayLength(fit.line) > 3 * fit.width ? { points: fit.line, width: fit.width } : null;
}

/** Zero line of the field around the piece's own pixels; neighbours are kept out midway. */
function outlineOf(part: Part, own: Uint8Array, label: Int32Array): Point[] | null {
  const { width, height, field } = part;
  const near = grow(own, width, height, 1);
  const data = new Float32Array(field.length);
  for (let i = 0; i < data.length; i++) {
    const f = field[i]!;
    if (own[i]) data[i] = Math.max(f, 0.05);
    else if (label[i]! > 0) data[i] = -Math.max(f, 0.05);
    else data[i] = near[i] ? Math.min(f, -0.05) : -1;
  }
  let best: Point[] | null = null;
  let area = 0;
  for (const line of levelLines({ width, height, data }, 0, part.x0, part.y0)) {
    const a = lineArea(line);
    if (a > area) {
      area = a;
      best = line;
    }
  }
  return best && calm(best);
}

function middleLine(
  part: Part,
  own: Uint8Array,
  distance: Float32Array,
  area: number,
  along: readonly number[] | null,
): { points: Point[]; width: number } | null {
  const { width, height, x0, y0 } = part;
  const way = along ?? longestWay(thin(own, width, height), width, height);
  if (way.length < 4) return null;
  const middles: Point[] = [];
  for (let k = 0; k < way.length; k++) {
    const i = way[k]!;
    middles.push([x0 + (i % width) + 0.5, y0 + Math.floor(i / width) + 0.5]);
  }
  const points = smoothWay(middles, 3);
  const start = Math.max(0.5, distance[way[0]!]!);
  const end = Math.max(0.5, distance[way[way.length - 1]!]!);
  const length = wayLength(points) + start + end - 1;
  const breadth = area / length;
  return length > 3 * breadth ? { points, width: breadth } : null;
}

type Look = Pick<Piece, 'lab' | 'manyHued' | 'seeThrough' | 'contrast' | 'mottle' | 'highlight'> & {
  readonly evidence: { readonly lightness: number; readonly colour: number };
};

/** Colour and contrast over the inner pixels. */
function lookInside(
  part: Part,
  own: Uint8Array,
  distance: Float32Array,
  rows: PhotoRows,
  membrane: Membrane,
): Look {
  const { picture } = rows;
  const { channels, data } = picture;
  let deep = 0;
  let size = 0;
  for (let i = 0; i < own.length; i++) if (distance[i]! > deep) deep = distance[i]!;
  const core = Math.min(deep * 0.6, 3);
  for (let i = 0; i < own.length; i++) if (own[i] && distance[i]! >= core) size++;
  const sums = [0, 0, 0];
  const white = [0, 0, 0];
  const inner = {
    l: new Float32Array(size),
    a: new Float32Array(part.a && part.b ? size : 0),
    b: new Float32Array(part.a && part.b ? size : 0),
    printed: 0,
  };
  const back = takeFloats(part.width);
  let n = 0;
  let l = 0;
  let l2 = 0;
  let a = 0;
  let b = 0;
  for (let row = 0; row < part.height; row++) {
    const o = row * part.width;
    const before = n;
    for (let i = o; i < o + part.width; i++) {
      if (!own[i] || distance[i]! < core) continue;
      const light = part.l[i]!;
      l += light;
      l2 += light * light;
      inner.l[n] = light;
      if (part.a && part.b) {
        a += inner.a[n] = part.a[i]!;
        b += inner.b[n] = part.b[i]!;
      }
      if (part.zone?.[i]) inner.printed++;
      n++;
    }
    if (n === before) continue;
    const y = part.y0 + row;
    const from = ((y - rows.top) * picture.width + part.x0 - (rows.left ?? 0)) * channels;
    for (let c = 0; c < membrane.channels; c++) {
      fieldRow(membrane.background[c]!, y, part.x0, 1, part.width, back);
      let codes = 0;
      let ground = 0;
      for (let x = 0; x < part.width; x++) {
        if (!own[o + x] || distance[o + x]! < core) continue;
        codes += data[from + x * channels + c]!;
        ground += back[x]!;
      }
      sums[c]! += codes / picture.full;
      white[c]! += ground;
    }
  }
  for (let c = membrane.channels; c < 3; c++) {
    sums[c] = sums[0]!;
    white[c] = white[0]!;
  }
  l /= n;
  a /= n;
  b /= n;
  const mean = (s: number[]): [number, number, number] => [s[0]! / n, s[1]! / n, s[2]! / n];
  const lab: Lab = labAgainst(mean(sums), mean(white));
  const rms = Math.sqrt(l2 / n);
  const [sl, sa, sb] = part.sigma;
  return {
    lab,
    // Ink shows through what lies on it: hues there are not the piece's own.
    manyHued: inner.printed === 0 && manyHued(inner.a, inner.b),
    seeThrough: Math.abs(l) < 0.05 && Math.hypot(a, b) < 0.04 && lab[0] < 103,
    contrast: Math.hypot(rms, 0.5 * Math.hypot(a, b)),
    mottle: rms > 0 ? Math.sqrt(Math.max(0, l2 / n - l * l)) / rms : 0,
    highlight: hasHighlight(inner.l),
    evidence: { lightness: rms / sl, colour: Math.hypot(a / sa, b / sb) },
  };
}

/** Blur of good optics in px, assumed for what a sharp rim looks like. */
const OPTICS = 1.4;

/**
 * Steepness of the rim as a part of what the same height would show at a sharp rim through this smoothing: about 1 for
 * particles, far less for stains and shade, whose rims are broad whatever the focus.
 */
function sharpness(part: Part, own: Uint8Array, distance: Float32Array): number {
  const { width, height, contrast, level, step } = part;
  const blur = Math.hypot(OPTICS, Math.sqrt(ROUNDS[step]! / 2));
  let n = 0;
  for (let i = 0; i < own.length; i++) if (own[i] && distance[i]! <= 1.5) n++;
  const steep = new Float64Array(n);
  n = 0;
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1; x < width - 1; x++) {
      const i = y * width + x;
      if (!own[i] || distance[i]! > 1.5) continue;
      const gx = 0.5 * (contrast[i + 1]! - contrast[i - 1]!);
      const gy = 0.5 * (contrast[i + width]! - contrast[i - width]!);
      steep[n++] = (lengthOf(gx, gy) / (2 * level[i]!)) * blur * 2.5066;
    }
  }
  return n === 0 ? 1 : kthSmallest(steep, n, Math.floor(n * 0.6));
}
