/**
 * A filter hidden under a deposit: a clogged membrane, pulp, a felt of fibres. What lies under it could not have been
 * seen, which is not the same as none seen, so the covered share counts as not looked at.
 * Judged on the medians of 64-px cells: a cell is covered where its colour (channel ratios) lies far from the membrane's.
 * Holds for: coloured deposits on an even-coloured membrane that is in view around them.
 * Deceives when: the deposit has the membrane's own colour, or hides more than half of what is in view and passes for it.
 */
import { fraction, type Refusal } from '../../units/index.ts';
import type { CellMedians } from './background.ts';
import { medianInPlace } from './robust.ts';

/** A colour this far from the membrane's, in natural logarithms of channel ratios, is no cast of light (project choice). */
const FAR = 0.12;
/** … and this many times the cells' own spread. */
const SPREADS = 6;
/** A patch of more than this share of the filter in view is a deposit, not a particle (practice advises under 5 % cover). */
export const DEPOSIT = 0.05;
/** With more than this share hidden the photograph is refused: counts on the rest do not speak for the filter. */
export const HIDDEN = 0.25;

/** Share of the filter in view (print and dish left out) that a deposit hides, 0 to 1; 0 for grey pictures. */
export function coveredShare(cells: CellMedians): number {
  if (cells.channels !== 3) return 0;
  const hue = cellHues(cells);
  const seen = hue.filter((h) => h !== null);
  if (seen.length < 20) return 0;
  const middle = [0, 1].map((k) => medianOf(seen.map((h) => h[k]!))) as [number, number];
  const away = (h: readonly [number, number]) => Math.hypot(h[0] - middle[0], h[1] - middle[1]);
  const bound = Math.max(FAR, SPREADS * medianOf(seen.map(away)));
  const far = hue.map((h) => h !== null && away(h) > bound);
  const least = Math.max(4, DEPOSIT * seen.length);
  return patchesOf(far, cells.columns).reduce((sum, n) => (n >= least ? sum + n : sum), 0) / seen.length;
}

const medianOf = (values: readonly number[]): number => medianInPlace(Float64Array.from(values));

type Hue = readonly [number, number];

function cellHues({ values, columns, rows }: CellMedians): (Hue | null)[] {
  return Array.from({ length: columns * rows }, (_, i) => {
    const [r, g, b] = [values[3 * i]!, values[3 * i + 1]!, values[3 * i + 2]!];
    return r > 0 && g > 0 && b > 0 ? [Math.log(r / g), Math.log(b / g)] : null;
  });
}

/** Sizes of the patches of adjoining true cells. */
function patchesOf(cells: readonly boolean[], columns: number): number[] {
  const open = cells.slice();
  const sizes: number[] = [];
  for (let start = 0; start < open.length; start++) {
    if (!open[start]) continue;
    open[start] = false;
    const waiting = [start];
    let size = 0;
    for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) {
      size++;
      const x = at % columns;
      const beside = [x > 0 ? at - 1 : -1, x < columns - 1 ? at + 1 : -1, at - columns, at + columns];
      for (const next of beside) {
        if (!open[next]) continue;
        open[next] = false;
        waiting.push(next);
      }
    }
    sizes.push(size);
  }
  return sizes;
}

/** What a person is told about a covered filter: nothing, a warning, or that the photograph is refused. */
export function coverGate(covered: number): { refusal: Refusal | null; warning: Refusal | null } {
  if (covered === 0) return { refusal: null, warning: null };
  const share = `${Math.round(100 * fraction(covered))} %`;
  if (covered > HIDDEN) {
    return {
      warning: null,
      refusal: {
        why: 'too-crowded',
        message: `A deposit hides ${share} of this filter: pieces under it could not have been seen, so nothing is counted here; digest what is left, or spread it over several filters.`,
      },
    };
  }
  return {
    refusal: null,
    warning: {
      why: 'covered',
      message: `A deposit hides ${share} of this filter: that part counts as not looked at; digest what is left, or spread it over several filters.`,
    },
  };
}
