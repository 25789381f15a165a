/** What a hand draws on a photograph, in pixels of the photo. */
export type Tool = 'cut' | 'redraw' | 'draw' | 'measure';
export type Spot = readonly [x: number, y: number];

export interface Sketch {
  readonly tool: Tool;
  readonly points: readonly Spot[];
  /** Where the next corner would go. */
  readonly cursor: Spot | null;
  /** True when the outline is whole and waits for its names, or the measured line has both ends. */
  readonly done: boolean;
}

export const TOOLS: { readonly [T in Tool]: { readonly name: string; readonly says: string } } = {
  cut: { name: 'Cut', says: 'Draw a line across the chosen piece, from one side of it to the other.' },
  redraw: { name: 'Redraw', says: 'Draw round the chosen piece; it takes the new outline.' },
  draw: { name: 'Add a piece', says: 'Draw round a piece that the program did not find.' },
  measure: { name: 'Measure', says: 'Draw a line; its length is shown and nothing is recorded.' },
};

export const isLine = (tool: Tool): boolean => tool === 'cut' || tool === 'measure';

export const begun = (tool: Tool): Sketch => ({ tool, points: [], cursor: null, done: false });

const apart = (a: Spot, b: Spot) => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** The pointer goes down or a corner is set by key: a line starts anew when it was whole. */
export function withCorner(sketch: Sketch, at: Spot): Sketch {
  if (sketch.done && !isLine(sketch.tool)) return sketch;
  if (!isLine(sketch.tool)) return { ...sketch, points: [...sketch.points, at], cursor: at };
  if (sketch.done || sketch.points.length === 0) return { ...sketch, points: [at], cursor: at, done: false };
  return { ...sketch, points: [sketch.points[0]!, at], cursor: at, done: true };
}

/** The pointer moves while it is down; corners closer than `least` photo pixels are left out. */
export function dragged(sketch: Sketch, at: Spot, least: number): Sketch {
  const { points, tool, done } = sketch;
  if (done || points.length === 0) return { ...sketch, cursor: at };
  if (isLine(tool)) return { ...sketch, cursor: at };
  const last = points[points.length - 1]!;
  return apart(last, at) < least ? sketch : { ...sketch, points: [...points, at], cursor: at };
}

/** The pointer goes up after a drag: a line gets its second end, an outline is closed when it was drawn in one go. */
export function released(sketch: Sketch, at: Spot, least: number): Sketch {
  const { points, tool, done } = sketch;
  if (done || points.length === 0) return sketch;
  if (isLine(tool)) {
    return apart(points[0]!, at) < least ? sketch : { ...sketch, points: [points[0]!, at], done: true };
  }
  return points.length >= 8 ? { ...sketch, done: true } : sketch;
}

/** By key: enough corners make an outline. */
export const closed = (sketch: Sketch): Sketch =>
  isLine(sketch.tool) || sketch.points.length < 3 ? sketch : { ...sketch, done: true };

/** The last corner is taken back. */
export const withoutLast = (sketch: Sketch): Sketch => ({
  ...sketch,
  points: sketch.points.slice(0, -1),
  done: false,
});

/** Length of a line in photo pixels; null until it has both ends or a cursor for the second. */
export function lengthPx({ points, cursor, done }: Sketch): number | null {
  const [a, b] = done ? points : [points[0], cursor];
  return a && b ? apart(a, b) : null;
}
