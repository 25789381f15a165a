import { factorKnowledge } from './factor-knowledge.ts';
import { differenceBelow, type Knowledge, middleAndSpread, productOf, tabulate } from './knowledge.ts';
import { recoveryKnowledge, type Spike } from './recovery-knowledge.ts';

/** Pieces of like size and shape: known ones found again, and how many were counted on either side. */
export interface RecoveryStratum {
  readonly name: string;
  readonly spikes: readonly Spike[];
  /** Counted on all specimen runs, and on all controls. */
  readonly specimens: number;
  readonly controls: number;
}

/** A pinch of every stratum, so that one that holds nothing yet keeps a say. */
const PINCH = 0.5;

const reciprocal = (k: Knowledge, times: number): Knowledge => {
  const last = k.at.length - 1;
  return {
    at: k.at.map((_, i) => times / Math.max(k.at[last - i]!, 1e-9)),
    share: k.share.map((_, i) => 1 - k.share[last - i]!),
  };
};

const mirrored = (k: Knowledge): Knowledge => {
  const last = k.at.length - 1;
  return { at: k.at.map((_, i) => -k.at[last - i]!), share: k.share.map((_, i) => 1 - k.share[last - i]!) };
};

function sumOf(a: Knowledge, b: Knowledge): Knowledge {
  const [left, right] = [middleAndSpread(a), middleAndSpread(b)];
  return tabulate(
    differenceBelow(a, mirrored(b)),
    left.middle + right.middle,
    Math.hypot(left.spread, right.spread) + 1e-12,
  );
}

/**
 * Recovery of what the product sheds, where recovery was measured by strata (size, shape) and pieces are lost unequally:
 * 1/R = Σ wₖ/Rₖ, wₖ the stratum's share of the net count (`extent`: specimens looked at over controls looked at). Every Rₖ
 * is known from its own spiked runs; the shares' own uncertainty (multinomial, enlarged by the background taken off) is
 * joined as a factor. `value` is the plain figure.
 *
 * Source: stratified estimation, Cochran 1977, Sampling Techniques, §5 (weights); sums of tables as in knowledge.ts.
 * Holds for: every piece belongs to one stratum, strata spiked apart. Deceives when: strata are read off by the same eye
 * that loses small pieces: what was never found has no stratum.
 */
export function strataRecovery(
  strata: readonly RecoveryStratum[],
  extent: number,
): { readonly knowledge: Knowledge; readonly value: number } {
  if (strata.length === 0) throw new RangeError('strata: at least one is needed, given none');
  if (!(extent > 0)) throw new RangeError(`extent: above 0 is needed, given ${extent}`);
  const nets = strata.map((s) => PINCH + Math.max(0, s.specimens - s.controls * extent));
  const total = nets.reduce((sum, n) => sum + n, 0);
  const share = nets.map((n) => n / total);
  const rates = strata.map(({ spikes }) => {
    const found = spikes.reduce((sum, s) => sum + s.found, 0);
    const added = spikes.reduce((sum, s) => sum + s.added, 0);
    if (!(found > 0)) throw new RangeError('strata: known pieces found again are needed in each');
    return found / added;
  });
  const inverse = rates.reduce((sum, rate, k) => sum + share[k]! / rate, 0);
  const parts = strata.map(({ spikes }, k) => reciprocal(recoveryKnowledge(spikes), share[k]!));
  const whole = parts.reduce((a, b) => sumOf(a, b));
  const gross = strata.reduce((sum, s) => sum + s.specimens + s.controls * extent * extent, 0) + PINCH;
  const between = rates.reduce((sum, rate, k) => sum + share[k]! * (1 / rate - inverse) ** 2, 0);
  const relative = Math.min(1, Math.sqrt((between * gross) / total ** 2) / inverse);
  const alone = reciprocal(whole, 1);
  return {
    knowledge: relative > 0 ? productOf(alone, factorKnowledge(relative)) : alone,
    value: 1 / inverse,
  };
}
