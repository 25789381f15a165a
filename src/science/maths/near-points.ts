/** Points sorted by their x, so that a nearest one is looked for among few. */
export type PlanePoint = readonly [x: number, y: number];

export interface NearPoints {
  /**
   * Index of the nearest point at most `reach` to the left or right for which `fits` holds; −1 where there is none. Of
   * equally near ones the one with the lower x, then the lower index.
   */
  nearest(from: PlanePoint, reach: number, fits: (index: number) => boolean): number;
}

export function nearPoints(points: readonly PlanePoint[]): NearPoints {
  const order = points.map((_, i) => i).sort((i, k) => points[i]![0] - points[k]![0] || i - k);
  const firstFrom = (x: number): number => {
    let [low, high] = [0, order.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (points[order[middle]!]![0] < x) low = middle + 1;
      else high = middle;
    }
    return low;
  };
  return {
    nearest(from, reach, fits) {
      let best = -1;
      let least = Number.POSITIVE_INFINITY;
      for (let i = firstFrom(from[0] - reach); i < order.length; i++) {
        const index = order[i]!;
        const [x, y] = points[index]!;
        if (x > from[0] + reach) break;
        const d = Math.hypot(from[0] - x, from[1] - y);
        if (d < least && fits(index)) {
          least = d;
          best = index;
        }
      }
      return best;
    },
  };
}
