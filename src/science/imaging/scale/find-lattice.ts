/** The scale of a photograph from the squares printed on its membrane. */
import { done, type Millimetres, type Outcome, refused } from '../../../units/index.ts';
import type { Picture } from '../finding.ts';
import { alternation, coarsest, countLines, emptyShare, printed } from './coarser.ts';
import { type Fit, fitMap } from './fit.ts';
import { type Lattice, type LatticeMap, mapGain, mapSlope } from './lattice.ts';
import { latticeFrom, numberFromZero, plausible } from './lattice-make.ts';
import { samplerOf, samplerOfGrey, workingGrey } from './luminance.ts';
import { describePrint, printedLines } from './print.ts';
import { supposedLattices } from './search.ts';
import { FAINT_PER_PITCH, PER_PITCH, type Sighted, sightClose, sightWide } from './sight.ts';
import type { Sampler } from './trace.ts';

/** Long side of the reduced picture that is searched, px. */
const SEARCHED = 800;
/** Print is refused as a scale above this: two-thirds of a goal of 0.4 % at worst would be 0.27 %; we stay well apart. */
const WORST_SPREAD = 0.006;
/** Regularity of print and pixels that no scatter within one photograph can show (project choice). */
const FLOOR = 2.5e-4;

const noScale = (message: string) => refused({ why: 'no-scale', message });

const NONE =
  'No printed squares were found in this photograph, so it has no scale: give the scale in µm per pixel, click two points of known distance, or photograph a gridded filter.';

interface Checked {
  readonly map: LatticeMap;
  readonly sighted: Sighted;
  readonly fit: Fit;
  readonly worth: number;
  readonly perPitch: number;
}

/** Two lines one way and one the other: the least that shows a square's side and that it is a grid. */
function enoughLines(sighted: Sighted, sure: boolean): boolean {
  const lines = printed(countLines(sighted.pieces));
  const columns = lines.filter((l) => l.runs === 'column').length;
  const rows = lines.length - columns;
  // Three lines alone may be hairs: each must then be inked over half of its length.
  if (sure && lines.length < 4 && lines.some((l) => l.inked < 0.5 * l.all)) return false;
  return Math.min(columns, rows) >= 1 && Math.max(columns, rows) >= 2;
}

/** A supposed lattice looked at on the reduced picture; null when ink is not clearly on its lines. */
function check(
  sampler: Sampler,
  map: LatticeMap,
  middle: readonly [number, number],
  perPitch: number,
): Checked | null {
  let now = map;
  for (let round = 0; round < 4; round++) {
    if (!plausible(now, 2 * middle[0], 2 * middle[1])) return null;
    const sighted = sightWide(sampler, now, round > 0, perPitch);
    if (!sighted || sighted.sightings.length < 8 || !enoughLines(sighted, false)) return null;
    const fit = fitMap(now, middle, sighted.sightings, round > 0, 8);
    now = coarsest(fit.map, sighted.pieces);
    if (round === 0 || now !== fit.map) continue;
    const inkPx = sighted.sightings.length * sighted.lengthPx;
    const worth =
      (sighted.onLines - sighted.between) * fit.accepted * Math.sqrt(inkPx / Math.hypot(...middle));
    // Grain alone passes for faint ink in short pieces: ask longer ones.
    const shaky = perPitch === PER_PITCH && sighted.onLines > 0.3 && sighted.between > 0.3 * sighted.onLines;
    const longer = shaky ? check(sampler, fit.map, middle, FAINT_PER_PITCH) : null;
    if (longer && longer.worth > worth) return longer;
    return { map: fit.map, sighted, fit, worth, perPitch };
  }
  return null;
}

/** Ink on most of the lines, little between them, and the fit agrees: no other lattice need be tried. */
function convincing({ sighted, fit }: Checked): boolean {
  const lines = printed(countLines(sighted.pieces)).length;
  return lines >= 4 && sighted.onLines > 0.5 && sighted.between < 0.2 && fit.accepted > 0.7;
}

/**
 * Finds the printed lattice: strongest slopes of line pieces in two directions, the period that explains both, then the
 * ink traced piece by piece and a robust fit of plane, tilt and lens to it.
 * `pitch` is the maker's distance between neighbouring lines (3.1 mm on most 47 mm membranes for counting; the usual
 * figure of makers and of ASTM F312 practice). The scale given is that at the picture's middle; with a bending lens the
 * scale differs from place to place, and `umPerPxAt` and `toUm` follow it. Refuses with `no-scale` when there is no
 * grid of two directions, when its squares are not square, or when the print is too little or too fine to be sure.
 */
export function findLattice(picture: Picture, pitch: Millimetres): Outcome<Lattice> {
  if (!(pitch > 0)) throw new RangeError(`pitch: a number of mm above 0 is needed, given ${pitch}`);
  const { width, height } = picture;
  if (Math.min(width, height) < 64) return noScale(NONE);
  const middle = [width / 2, height / 2] as const;
  const grey = workingGrey(picture, SEARCHED);
  const reduced = samplerOfGrey(grey);
  let best: Checked | null = null;
  for (const supposed of supposedLattices(grey, picture)) {
    const checked = check(reduced, supposed, middle, PER_PITCH);
    if (checked && (!best || checked.worth > best.worth)) best = checked;
    if (checked && convincing(checked)) break;
  }
  if (!best) return noScale(NONE);
  return settleOn(picture, pitch, best, middle);
}

function settleOn(
  picture: Picture,
  pitch: Millimetres,
  start: Checked,
  middle: readonly [number, number],
): Outcome<Lattice> {
  const { width, height } = picture;
  const full = samplerOf(picture);
  let map = start.map;
  let { widthPx } = start.sighted.ink;
  let slack = 4 * start.fit.residualPx + 1;
  let close: Sighted | null = null;
  let fit = start.fit;
  for (let round = 0; round < 2; round++) {
    if (!plausible(map, width, height)) return noScale(NONE);
    close = sightClose(full, map, widthPx, slack, start.perPitch);
    if (!close || close.sightings.length < 12 || !enoughLines(close, true)) return noScale(NONE);
    fit = fitMap(map, middle, close.sightings, true);
    map = fit.map;
    widthPx = close.ink.widthPx;
    slack = Math.max(1, 3 * fit.residualPx);
    if (round === 0 && fit.residualPx < 0.25 * widthPx) break;
  }
  if (!close || !plausible(map, width, height)) return noScale(NONE);
  const doubt = doubtOf(map, middle, close, start.sighted, fit);
  if (doubt) return noScale(doubt);
  const numbered = numberFromZero(map, width, height);
  return done(
    latticeFrom(
      {
        map: numbered,
        pitch,
        relativeUncertainty: Math.hypot(fit.scaleSpread, FLOOR),
        print: describePrint(picture, close, map),
        lines: printedLines(close, map, numbered, fit),
        residualPx: fit.residualPx,
      },
      width,
      height,
    ),
  );
}

/** Why this lattice should not be believed, in a sentence; null when it should. */
function doubtOf(
  map: LatticeMap,
  middle: readonly [number, number],
  close: Sighted,
  wide: Sighted,
  fit: Fit,
): string | null {
  const pitchPx = 1 / mapGain(map, middle[0], middle[1]);
  const [cx, cy, rx, ry] = mapSlope(map, middle[0], middle[1]);
  const stretch = Math.abs(Math.log(Math.hypot(cx, cy) / Math.hypot(rx, ry)));
  const lean = Math.abs((cx * rx + cy * ry) / (Math.hypot(cx, cy) * Math.hypot(rx, ry)));
  if (
    wide.onLines < 0.2 ||
    wide.between > 0.56 * wide.onLines ||
    wide.betweenOneWay > 0.7 * wide.onLines ||
    fit.accepted < 0.5
  )
    return NONE;
  if (close.ink.widthPx > 0.25 * pitchPx) return NONE;
  if (
    stretch > 0.03 ||
    lean > 0.03 ||
    emptyShare(map, close.pieces) > 0.3 ||
    alternation(map, close.pieces) > 0.7
  ) {
    return 'Lines cross in this photograph but do not make squares, so they are not taken as a scale: check that the camera looks straight down, or give the scale by hand.';
  }
  if (fit.scaleSpread > WORST_SPREAD) {
    return `Too little of the printed grid is in view to measure by (spread ${(100 * fit.scaleSpread).toFixed(1)} %): show more squares or give the scale by hand.`;
  }
  return null;
}
