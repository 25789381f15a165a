import { roundLength } from './figures.ts';
/** A chart to find numbered pieces again under another instrument: the photograph's frame, landmarks, pieces. Printable. */
import { element, frame, INK, text } from './markup.ts';

export interface FinderPiece {
  /** What stands beside it: the number of a piece, the letter of a landmark. */
  readonly label: string;
  readonly outlinePx: readonly (readonly [number, number])[];
  readonly centrePx: readonly [number, number];
}

export interface FinderChart {
  readonly name: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly umPerPx: number | null;
  /** To be found. */
  readonly pieces: readonly FinderPiece[];
  /** Large pieces that can be told at once; three make the map to the other instrument. */
  readonly landmarks: readonly FinderPiece[];
  /** Everything else on the photograph, drawn faintly: the constellation to recognise. */
  readonly others: readonly Pick<FinderPiece, 'outlinePx'>[];
}

const EDGE = 26;

interface Spot {
  readonly centrePx: readonly [number, number];
  readonly size: number;
}

/** Room between a landmark and a numbered piece, so that letter and number do not cover each other: a part of the width. */
const CLEAR_SHARE = 0.05;

/**
 * The three (or fewer) landmarks that span most: the largest triangle among the largest pieces, clear of the numbered ones
 * where three such are there.
 */
export function landmarksOf<T extends Spot>(
  pieces: readonly T[],
  numbered: readonly Spot[] = [],
  widthPx = 0,
): readonly T[] {
  const isClear = (one: T): boolean =>
    numbered.every(
      (other) =>
        Math.hypot(one.centrePx[0] - other.centrePx[0], one.centrePx[1] - other.centrePx[1]) >
        (one.size + other.size) / 2 + CLEAR_SHARE * widthPx,
    );
  const clear = pieces.filter(isClear);
  const large = [...(clear.length >= 3 ? clear : pieces)].sort((a, b) => b.size - a.size).slice(0, 14);
  let best: readonly T[] = large.slice(0, 3);
  let most = -1;
  for (let i = 0; i < large.length; i++) {
    for (let j = i + 1; j < large.length; j++) {
      for (let k = j + 1; k < large.length; k++) {
        const [a, b, c] = [large[i]!, large[j]!, large[k]!];
        const area = Math.abs(
          (b.centrePx[0] - a.centrePx[0]) * (c.centrePx[1] - a.centrePx[1]) -
            (c.centrePx[0] - a.centrePx[0]) * (b.centrePx[1] - a.centrePx[1]),
        );
        if (area > most) {
          most = area;
          best = [a, b, c];
        }
      }
    }
  }
  return best;
}

/** The scale bar fills at most this share of the width. */
const BAR_SHARE = 0.2;

export function finderChart(chart: FinderChart, width: number): string {
  const scale = (width - 2 * EDGE) / chart.widthPx;
  const height = chart.heightPx * scale + 2 * EDGE + 30;
  const at = ([x, y]: readonly [number, number]) => [EDGE + x * scale, EDGE + y * scale] as const;
  const path = (outline: FinderPiece['outlinePx']): string =>
    `${outline
      .map(
        (point, i) =>
          `${i === 0 ? 'M' : 'L'}${at(point)
            .map((n) => n.toFixed(1))
            .join(' ')}`,
      )
      .join('')}Z`;
  const parts: string[] = [
    element('rect', {
      x: EDGE,
      y: EDGE,
      width: chart.widthPx * scale,
      height: chart.heightPx * scale,
      fill: INK.paper,
      stroke: INK.soft,
      'stroke-width': 1,
    }),
  ];
  for (const { outlinePx } of chart.others)
    parts.push(
      element('path', { d: path(outlinePx), fill: INK.rule, stroke: INK.soft, 'stroke-width': 0.6 }),
    );
  for (const mark of chart.landmarks) {
    const [x, y] = at(mark.centrePx);
    parts.push(
      element('path', { d: path(mark.outlinePx), fill: INK.soft }),
      element('path', {
        d: `M${x - 13} ${y}H${x + 13}M${x} ${y - 13}V${y + 13}`,
        stroke: INK.ink,
        'stroke-width': 1,
      }),
      text(mark.label, { x: x + 9, y: y - 9, weight: 700, size: 17 }),
    );
  }
  for (const piece of chart.pieces) {
    const [x, y] = at(piece.centrePx);
    const right = x < width - 70;
    parts.push(
      element('path', { d: path(piece.outlinePx), fill: INK.accent }),
      element('circle', { cx: x, cy: y, r: 11, fill: 'none', stroke: INK.accent, 'stroke-width': 1.6 }),
      text(piece.label, {
        x: right ? x + 14 : x - 14,
        y: y + 5,
        anchor: right ? 'start' : 'end',
        weight: 700,
        fill: INK.accent,
      }),
    );
  }
  if (chart.umPerPx !== null) {
    const um = roundLength(BAR_SHARE * chart.widthPx * chart.umPerPx);
    const length = (um / chart.umPerPx) * scale;
    const y = height - 22;
    parts.push(
      element('path', {
        d: `M${EDGE} ${y}h${length}m0 -5v10m${-length} -10v10`,
        stroke: INK.ink,
        'stroke-width': 2,
        fill: 'none',
      }),
      text(um >= 1000 ? `${um / 1000} mm` : `${um} µm`, { x: EDGE + length + 8, y: y + 5 }),
    );
  }
  parts.push(text(chart.name, { x: width - EDGE, y: height - 17, anchor: 'end', fill: INK.soft }));
  return frame(
    { width, height },
    {
      title: `Finder chart of ${chart.name}`,
      description: `${chart.pieces.length} numbered pieces to be found again, ${chart.landmarks.length} landmarks, ${chart.others.length} other pieces.`,
    },
    `finder-${chart.name}`,
    parts.join(''),
  );
}
