/** What a person should be told about a photograph before its particles are counted. */
import { type Fraction, fraction, type Refusal } from '../../../units/index.ts';
import type { Picture } from '../finding.ts';
import type { FilterEdge } from './edge.ts';
import { focusOf } from './focus.ts';
import { type Glare, glareOf } from './glare.ts';
import type { Lattice } from './lattice.ts';
import { membraneLikeness } from './membrane-likeness.ts';

export interface Gates {
  /** `not-a-filter`, or null. */
  readonly refusal: Refusal | null;
  /** `out-of-focus`, `glare`. */
  readonly warnings: readonly Refusal[];
  /** Standard deviation of the blur at the sharper edges, px; null where too few edges are in view. */
  readonly blurPx: number | null;
  readonly glare: Glare;
  readonly glareFraction: Fraction;
  /** Share of the filter that lies near one smooth ground, 0 to 1. */
  readonly membraneLikeness: number;
}

/** Above this blur the measures of small pieces suffer (project choice). */
const BLURRED_PX = 2.5;
const GLARE_WARNED = 0.005;
/** A photograph without print or rim needs this share of one ground to pass for a membrane (project choice). */
const LEAST_GROUND = 0.5;

/** `edge` and `lattice` as found before; where print was found the photograph is a filter whatever else is in it. */
export function gatesOf(picture: Picture, lattice: Pick<Lattice, 'umPerPx'> | null, edge: FilterEdge): Gates {
  const { blurPx } = focusOf(picture, lattice !== null);
  const glare = glareOf(picture);
  const likeness = membraneLikeness(picture, edge);
  const warnings: Refusal[] = [];
  if (blurPx !== null && blurPx > BLURRED_PX) {
    const across = lattice
      ? `${Math.round(6 * blurPx * lattice.umPerPx)} µm`
      : `${Math.round(6 * blurPx)} pixels`;
    warnings.push({
      why: 'out-of-focus',
      message: `This photograph is out of focus: its sharpest edges are blurred by ${blurPx.toFixed(1)} pixels (standard deviation), so pieces under about ${across} may be missed or measured too large; take it again with the filter flat and in focus.`,
    });
  }
  if (glare.fraction > GLARE_WARNED) {
    warnings.push({
      why: 'glare',
      message: `Glare has blown out ${(100 * glare.fraction).toFixed(1)} % of this photograph, and nothing can be seen there: that part counts as not looked at; dim or turn the light and take it again.`,
    });
  }
  const refusal =
    lattice === null && likeness < LEAST_GROUND
      ? {
          why: 'not-a-filter',
          message: `This does not look like a photograph of a filter: only ${Math.round(100 * likeness)} % of it is one even ground (a filter shows at least ${100 * LEAST_GROUND} %); check that the right file was chosen, or crop it to the filter.`,
        }
      : null;
  return {
    refusal,
    warnings,
    blurPx,
    glare,
    glareFraction: fraction(Math.min(1, glare.fraction)),
    membraneLikeness: likeness,
  };
}
