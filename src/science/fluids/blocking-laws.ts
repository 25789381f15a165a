/**
 * The four classical laws of filtration at constant pressure, d²t/dV² = k·(dt/dV)ⁿ.
 * Source: Hermia 1982, Trans. IChemE 60:183–187 (from memory; exponents and times confirmed by differentiation in the test).
 *
 * Each is written with x = b·V, where b = −Q′(0)/Q₀ is the share of the starting flow that is lost with the first millilitre:
 * time t = (V/Q₀)·g(x), flow Q = Q₀·q(x). In this form all four start alike, t ≈ (V/Q₀)(1 + x/2), and part later:
 * that is why the first marks cannot tell them apart.
 */
export const BLOCKING_LAWS = ['complete', 'standard', 'intermediate', 'cake'] as const;
export type BlockingLaw = (typeof BLOCKING_LAWS)[number];

interface Law {
  /** Exponent n. */
  readonly exponent: number;
  /** ln g(x) at 0 ≤ x < last. */
  readonly lnDelay: (x: number) => number;
  /** q(x): flow as a share of the starting flow. */
  readonly flow: (x: number) => number;
  /** x at which the flow has fallen to a share. */
  readonly atFlow: (share: number) => number;
  /** x at which nothing more passes; null where the law has no end. */
  readonly end: number | null;
  /** What is happening in the filter. */
  readonly means: string;
}

const LAWS: Readonly<Record<BlockingLaw, Law>> = {
  complete: {
    exponent: 2,
    lnDelay: (x) => Math.log(x < 1e-9 ? 1 + x / 2 : -Math.log1p(-x) / x),
    flow: (x) => 1 - x,
    atFlow: (share) => 1 - share,
    end: 1,
    means: 'each arriving piece shuts a pore',
  },
  standard: {
    exponent: 1.5,
    lnDelay: (x) => -Math.log1p(-x / 2),
    flow: (x) => (1 - x / 2) ** 2,
    atFlow: (share) => 2 * (1 - Math.sqrt(share)),
    end: 2,
    means: 'fine matter lines the pores from within',
  },
  intermediate: {
    exponent: 1,
    lnDelay: (x) => Math.log(x < 1e-9 ? 1 + x / 2 : Math.expm1(x) / x),
    flow: (x) => Math.exp(-x),
    atFlow: (share) => -Math.log(share),
    end: null,
    means: 'pieces land on pores and on one another',
  },
  cake: {
    exponent: 0,
    lnDelay: (x) => Math.log1p(x / 2),
    flow: (x) => 1 / (1 + x),
    atFlow: (share) => 1 / share - 1,
    end: null,
    means: 'a layer builds up on the filter',
  },
};

export const lawOf = (law: BlockingLaw): Law => LAWS[law];

/**
 * Time for a volume, s; Infinity from the volume on at which the law lets nothing more pass.
 * `flowMlS` is the starting flow Q₀, `lossPerMl` is b.
 */
export function timeFor(law: BlockingLaw, volumeMl: number, flowMlS: number, lossPerMl: number): number {
  const { lnDelay, end } = LAWS[law];
  const x = lossPerMl * volumeMl;
  return end !== null && x >= end ? Infinity : (volumeMl / flowMlS) * Math.exp(lnDelay(x));
}

/** Volume at which the flow has fallen to a share of its start; Infinity for a filter that does not clog. */
export const volumeAtFlow = (law: BlockingLaw, share: number, lossPerMl: number): number =>
  lossPerMl === 0 ? Infinity : LAWS[law].atFlow(share) / lossPerMl;

/** Volume at which nothing more passes; null where the law has no such end. */
export function lastVolume(law: BlockingLaw, lossPerMl: number): number | null {
  const { end } = LAWS[law];
  return end === null || lossPerMl === 0 ? null : end / lossPerMl;
}

/**
 * The constant as the laws are usually printed, with its unit: K′ (1/s) complete, K (1/mL) standard and intermediate,
 * K″ (s/mL²) cake.
 */
export function printedConstant(
  law: BlockingLaw,
  flowMlS: number,
  lossPerMl: number,
): { readonly value: number; readonly unit: '1/s' | '1/mL' | 's/mL²' } {
  if (law === 'complete') return { value: lossPerMl * flowMlS, unit: '1/s' };
  if (law === 'cake') return { value: lossPerMl / flowMlS, unit: 's/mL²' };
  return { value: lossPerMl, unit: '1/mL' };
}

/** b of a printed constant: the reverse of `printedConstant`. */
export function lossOf(law: BlockingLaw, flowMlS: number, constant: number): number {
  if (law === 'complete') return constant / flowMlS;
  return law === 'cake' ? constant * flowMlS : constant;
}
