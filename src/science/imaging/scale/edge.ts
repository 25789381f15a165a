/** The filter against what lies beyond it. */
import type { Point } from '../finding.ts';

/** Where the photograph shows the filter and where it shows the dish, the holder or the bench. */
export interface FilterEdge {
  /** The whole picture is filter. */
  readonly everywhere: boolean;
  /** Circle through the filter's rim where enough of an arc is seen; null otherwise. */
  readonly circle: { readonly centre: Point; readonly radiusPx: number } | null;
  /**
   * Radius in each direction divided by `radiusPx`, at even angles from +x towards +y: a lens makes a circle slightly
   * uneven. One value where the circle needs no help.
   */
  readonly unevenness: readonly number[];
  /** Width of the blurred or shaded band inside the rim, where nothing can be judged, divided by `radiusPx`. */
  readonly marginShare: number;
  /** Low-resolution mask, row by row; cell (i, j) covers px [i·step, (i+1)·step) × [j·step, (j+1)·step); 1 is filter. */
  readonly mask: {
    readonly step: number;
    readonly columns: number;
    readonly rows: number;
    readonly inside: Uint8Array;
  };
  /** Share of the picture that is filter. */
  readonly insideFraction: number;
}

export function radiusTowards(
  radiusPx: number,
  unevenness: readonly number[],
  dx: number,
  dy: number,
): number {
  const n = unevenness.length;
  if (n < 2) return radiusPx;
  const turn = Math.atan2(dy, dx) / (2 * Math.PI);
  const at = (turn < 0 ? turn + 1 : turn) * n;
  const i = Math.floor(at) % n;
  const f = at - Math.floor(at);
  return radiusPx * (unevenness[i]! * (1 - f) + unevenness[(i + 1) % n]! * f);
}

/** Whether this place of the photograph is filter, clear of its blurred rim; exact on the circle where there is one. */
export function insideFilter(edge: FilterEdge, x: number, y: number): boolean {
  if (edge.everywhere) return true;
  if (edge.circle) {
    const dx = x - edge.circle.centre[0];
    const dy = y - edge.circle.centre[1];
    const rim = radiusTowards(edge.circle.radiusPx, edge.unevenness, dx, dy);
    return Math.hypot(dx, dy) <= rim - edge.marginShare * edge.circle.radiusPx;
  }
  const { step, columns, rows, inside } = edge.mask;
  const i = Math.min(columns - 1, Math.max(0, Math.floor(x / step)));
  const j = Math.min(rows - 1, Math.max(0, Math.floor(y / step)));
  return inside[j * columns + i] === 1;
}
