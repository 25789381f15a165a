/** A stored lens setting against the print of the photograph in hand. */
import type { MicrometresPerPixel, Refusal } from '../../../units/index.ts';

export interface OpticsCheck {
  /** Stored scale divided by the print's. */
  readonly ratio: number;
  /** Difference of the two in units of its own standard uncertainty. */
  readonly z: number;
  /** `optics-disagree` when the two cannot both be right; null when they agree. */
  readonly warning: Refusal | null;
}

/** Makers seldom promise the pitch better than this (one standard deviation). Common practice, no source. */
const PITCH_TOLERANCE = 0.003;
/** 99 % of a normal law lies within 2.576 standard deviations. */
const LIMIT = 2.576;

export function opticsAgainstPrint(
  stored: { readonly umPerPx: MicrometresPerPixel; readonly relativeUncertainty: number },
  print: { readonly umPerPx: MicrometresPerPixel; readonly relativeUncertainty: number },
): OpticsCheck {
  const ratio = stored.umPerPx / print.umPerPx;
  const spread = Math.hypot(stored.relativeUncertainty, print.relativeUncertainty, PITCH_TOLERANCE);
  const z = Math.log(ratio) / spread;
  const warning =
    Math.abs(z) > LIMIT
      ? {
          why: 'optics-disagree',
          message: `The stored lens setting says ${stored.umPerPx.toFixed(3)} µm per pixel but the printed squares say ${print.umPerPx.toFixed(3)} (${(100 * (ratio - 1)).toFixed(1)} % apart): check the zoom setting of this photograph, and that the pitch of the print is right.`,
        }
      : null;
  return { ratio, z, warning };
}
