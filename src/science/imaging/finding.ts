/**
 * The one interface of detection: a picture and a wish go in, a finding comes out.
 * All positions are pixels of the upright full-size photograph, origin at its top left corner, x to the right.
 */
import type {
  Fraction,
  Micrometres,
  MicrometresPerPixel,
  Millimetres,
  Refusal,
  SquareMicrometres,
} from '../../units/index.ts';

/** Decoded photograph: row by row, channels interleaved, sRGB-encoded; `full` is the value of white (255, 4095, 65535 …). */
export interface Picture {
  readonly width: number;
  readonly height: number;
  readonly channels: 1 | 3;
  readonly data: Uint8Array | Uint16Array;
  readonly full: number;
}

/** A picture too large to hold: rows are asked for in order, top to bottom, in two passes; now and then some again. */
export interface PictureStrips {
  readonly width: number;
  readonly height: number;
  readonly channels: 1 | 3;
  readonly full: number;
  /** Rows [top, top + rows) of the full width; they may be put into memory that the caller no longer needs. */
  strip(top: number, rows: number, into?: Picture['data']): Promise<Picture>;
}

export type ScaleWish =
  | { readonly from: 'printed-grid'; readonly pitch: Millimetres }
  | { readonly from: 'given'; readonly scale: MicrometresPerPixel; readonly relativeUncertainty?: Fraction }
  | { readonly from: 'two-points'; readonly a: Point; readonly b: Point; readonly apart: Micrometres }
  | { readonly from: 'nothing' };

export type Point = readonly [x: number, y: number];

export interface FindWish {
  readonly scale: ScaleWish;
  /** Smallest maximum Feret diameter to report; null: what the optics allow. */
  readonly smallest: Micrometres | null;
  /** How many false finds on a photograph of an empty filter are acceptable, on average. Default 0.5. */
  readonly falseFindsPerBlank: number;
}

export const SHAPES = ['fragment', 'fibre', 'film', 'foam', 'bead'] as const;
export type Shape = (typeof SHAPES)[number];

/** GESAMP-type short list; clear is apart from white. */
export const COLOURS = [
  'clear',
  'white',
  'grey',
  'black',
  'blue',
  'green',
  'red',
  'pink',
  'orange',
  'yellow',
  'brown',
  'purple',
  'multicoloured',
] as const;
export type Colour = (typeof COLOURS)[number];

export interface Scale {
  readonly umPerPx: MicrometresPerPixel;
  /** One standard uncertainty divided by the value. */
  readonly relativeUncertainty: number;
  readonly basis: 'printed-grid' | 'given' | 'two-points' | 'target';
  readonly pitch: Millimetres | null;
  readonly rotationDeg: number | null;
  /** Whole printed squares in view. */
  readonly squares: number | null;
}

/** Evidence that made a find, each in units of the local noise, and the chance that the find is real. */
export interface Certainty {
  readonly lightness: number;
  readonly colour: number;
  readonly ridge: number;
  readonly real: Fraction;
}

/** µm values are null where the photograph has no scale. */
export interface Particle {
  readonly outlinePx: readonly Point[];
  readonly centroidPx: Point;
  readonly areaPx2: number;
  readonly feretMaxPx: number;
  readonly feretMinPx: number;
  readonly areaUm2: SquareMicrometres | null;
  readonly feretMaxUm: Micrometres | null;
  readonly feretMinUm: Micrometres | null;
  /** √(4A/π), ISO 9276-6. */
  readonly equivalentDiameterUm: Micrometres | null;
  readonly perimeterUm: Micrometres | null;
  /** √(4πA/P²), ISO 9276-6; never above 1. */
  readonly circularity: number;
  /** Area over area of the convex hull, ISO 9276-6. */
  readonly solidity: number;
  readonly fibreLengthUm: Micrometres | null;
  readonly fibreWidthUm: Micrometres | null;
  readonly shape: Shape;
  readonly shapeBecause: string;
  readonly colour: Colour;
  /** CIELAB (D65) of the piece against the membrane's own white. */
  readonly lab: readonly [L: number, a: number, b: number];
  readonly touchesFrame: boolean;
  /** Column and row of the printed square that counts it (two sides in, two sides out). */
  readonly square: readonly [column: number, row: number] | null;
  /** Miles–Lantuéjoul weight for pieces that a frame of this size would cut; 1 where nothing is cut. */
  readonly frameWeight: number;
  readonly certainty: Certainty;
}

/** One printed square with its corners (clockwise from top left) and whether it lies wholly in the photograph. */
export interface GridSquare {
  readonly square: readonly [column: number, row: number];
  readonly cornersPx: readonly [Point, Point, Point, Point];
  readonly whole: boolean;
}

export interface Finding {
  readonly method: string;
  readonly version: string;
  readonly scale: Scale | null;
  readonly grid: readonly GridSquare[];
  /** `no-scale` keeps the particles in pixels; `not-a-filter`, `too-crowded`, `too-small` leave none. */
  readonly refusal: Refusal | null;
  /** Things a person should know: out of focus, glare, uneven scale. */
  readonly warnings: readonly Refusal[];
  readonly particles: readonly Particle[];
  /** Share of the photograph's area that was searched (filter in view, less glare). */
  readonly searchedFraction: Fraction;
  /** Smallest maximum Feret diameter that was searched for. */
  readonly floorPx: number;
}

/** A method of finding particles. Pure: the same picture and wish give the same finding, to the last digit. */
export interface Finder {
  readonly method: string;
  readonly version: string;
  find(picture: Picture, wish: FindWish): Finding;
}
