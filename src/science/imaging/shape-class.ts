/** What kind of piece an outline is, with the reason in words. */
import type { Shape } from './finding.ts';

export interface ShapeFacts {
  readonly feretMax: number;
  readonly feretMin: number;
  readonly circularity: number;
  readonly solidity: number;
  readonly area: number;
  /** Length along the middle line, where the piece was followed as a line. */
  readonly lineLength: number | null;
  readonly lineWidth: number | null;
  /** Contrast in lightness and colour against the membrane, 0…1. */
  readonly contrast: number;
  /** Variation of the contrast inside, as a part of it. */
  readonly mottle: number;
  /** Whether a small bright spot lies inside a darker round piece. */
  readonly highlight: boolean;
  /** Area in units of the blur circle's: how much shape the optics can show. */
  readonly resolved: number;
}

export interface ShapeCall {
  readonly shape: Shape;
  readonly because: string;
}

const of = (n: number, digits = 1) => n.toFixed(digits);

/** Slenderness from which a piece is called a fibre; common practice (3:1), no single source. */
export const FIBRE_RATIO = 3;

export function callShape(f: ShapeFacts): ShapeCall {
  if (f.lineLength !== null && f.lineWidth !== null && f.lineLength >= FIBRE_RATIO * f.lineWidth) {
    const ratio = f.lineLength / Math.max(1e-6, f.lineWidth);
    const slender = f.lineLength * f.lineWidth;
    if (ratio >= 5 || slender > 0.6 * f.area) {
      return { shape: 'fibre', because: `${of(ratio, 0)} times as long as wide along its middle line` };
    }
  }
  const aspect = f.feretMin / Math.max(1e-6, f.feretMax);
  if (f.circularity > 0.93 && aspect > 0.85 && f.solidity > 0.93 && (f.highlight || f.resolved > 6)) {
    const spot = f.highlight ? ', with a bright spot' : '';
    return {
      shape: 'bead',
      because: `round: circularity ${of(f.circularity, 2)}, as wide as long to ${of(100 * aspect, 0)} %${spot}`,
    };
  }
  if (f.contrast < 0.14 && f.resolved > 12) {
    return {
      shape: 'film',
      because: `faint over its whole area: contrast ${of(100 * f.contrast, 0)} % of the membrane`,
    };
  }
  if (f.mottle > 0.55 && f.resolved > 40) {
    return {
      shape: 'foam',
      because: `full of light and dark spots: contrast varies by ${of(100 * f.mottle, 0)} % inside`,
    };
  }
  return {
    shape: 'fragment',
    because: `solid and irregular: ${of(1 / Math.max(aspect, 0.01))} times as long as wide, circularity ${of(f.circularity, 2)}`,
  };
}
