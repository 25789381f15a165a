import type { GroupRate, SeenRun } from './group-rate.ts';

export type VarianceSource =
  | 'counting specimens'
  | 'scatter of specimens'
  | 'counting controls'
  | 'scatter of controls'
  | 'share of true pieces'
  | 'recovery and drill'
  | 'what was looked at';

/** How much of the variance of the net comes from one source; the shares add to 1. */
export interface VarianceShare {
  readonly source: VarianceSource;
  readonly share: number;
}

interface Part {
  readonly value: number;
  readonly relativeVariance: number;
}

/**
 * First-order (delta) shares of the variance of the net, to say what to improve first; the interval itself does not
 * use them. Deceives when: counts are a handful, where the parts do not simply add.
 */
export function varianceShares(parts: {
  specimens: readonly SeenRun[];
  controls: readonly SeenRun[];
  gross: GroupRate;
  background: GroupRate;
  shares: { specimens: Part; controls: Part };
  divisor: Part;
  /** Relative uncertainty of what was looked at, of each whole side. */
  extent: { specimens: number; controls: number };
}): VarianceShare[] {
  const { gross, background, shares, divisor, extent } = parts;
  const of = (
    runs: readonly SeenRun[],
    group: GroupRate,
    share: Part,
  ): { counting: number; scatter: number; share: number } => {
    const looked = runs.reduce((sum, r) => sum + r.fraction, 0);
    const squares = runs.reduce((sum, r) => sum + r.fraction ** 2, 0);
    // half a piece keeps “none found” from having no variance
    const rate = Math.max(group.rate, 0.5 / looked);
    return {
      counting: (share.value ** 2 * rate) / looked,
      scatter: (share.value ** 2 * group.scatterSquared * rate ** 2 * squares) / looked ** 2,
      share: (share.value * rate) ** 2 * share.relativeVariance,
    };
  };
  const s = of(parts.specimens, gross, shares.specimens);
  const c = of(parts.controls, background, shares.controls);
  const net = gross.rate * shares.specimens.value - background.rate * shares.controls.value;
  const variances: [VarianceSource, number][] = [
    ['counting specimens', s.counting],
    ['scatter of specimens', s.scatter],
    ['counting controls', c.counting],
    ['scatter of controls', c.scatter],
    ['share of true pieces', s.share + c.share],
    ['recovery and drill', net ** 2 * divisor.relativeVariance],
    [
      'what was looked at',
      (gross.rate * shares.specimens.value * extent.specimens) ** 2 +
        (background.rate * shares.controls.value * extent.controls) ** 2,
    ],
  ];
  const total = variances.reduce((sum, [, v]) => sum + v, 0);
  return variances.map(([source, v]) => ({ source, share: v / total }));
}
