/**
 * Drag of a body that falls steadily, as C_D(Re) with Re = ρ·v·d/µ on the diameter of the sphere of equal volume.
 */

/** Creeping flow: 24/Re. Holds for: Re < 0.1 (5 % too little drag at 0.3, 15 % at 1). */
export const stokesDrag = (re: number): number => 24 / re;

/** Spheres. Source: Schiller & Naumann 1933, VDI-Z 77:318. Holds for: Re < 800. */
export const schillerNaumannDrag = (re: number): number => (24 / re) * (1 + 0.15 * re ** 0.687);

/** Spheres. Source: Haider & Levenspiel 1989, Powder Technol. 58:63. Holds for: Re < 2·10⁵. */
export const haiderLevenspielDrag = (re: number): number =>
  (24 / re) * (1 + 0.1806 * re ** 0.6459) + 0.4251 / (1 + 6880.95 / re);

/** How much a shape differs from a sphere of the same volume. Both are 1 for a sphere. */
export interface DragFactors {
  /** Speed in creeping flow, as a share of the sphere's. */
  readonly creeping: number;
  /** Growth of inertial drag; above 1 for anything but a sphere. */
  readonly inertial: number;
}

/**
 * Any shape: the sphere's curve, stretched by two factors, C_D = K₂·C_sphere(Re·K₁·K₂).
 * Source: the similarity of Ganser 1993, Powder Technol. 77:143 (from memory), on the curve of Haider & Levenspiel.
 * Holds for: Re·K₁·K₂ < 10⁵. Deceives when: a large flat piece flutters.
 */
export const shapedDrag = (re: number, { creeping, inertial }: DragFactors): number =>
  inertial * haiderLevenspielDrag(re * creeping * inertial);

/** Inertial factor of a sphericity. Source: Ganser 1993 (from memory). */
export const inertialFactor = (sphericity: number): number =>
  sphericity >= 1 ? 1 : 10 ** (1.8148 * (-Math.log10(sphericity)) ** 0.5743);

/** Creeping-flow factor of a compact piece of this sphericity. Source: Ganser 1993 (from memory). */
export const compactFactor = (sphericity: number): number => 1 / (1 / 3 + (2 / 3) * sphericity ** -0.5);

/**
 * Creeping-flow factor of a spheroid that tumbles freely, exact: the reciprocal of Perrin's translational friction ratio.
 * `aspect` is length over width; above 1 a rod, below 1 a disc.
 * Source: Perrin 1936, J. Phys. Radium 7:1; ratios printed in Cantor & Schimmel 1980, Biophysical Chemistry II.
 */
export function spheroidFactor(aspect: number): number {
  if (!(aspect > 0 && aspect < Infinity)) {
    throw new RangeError(`aspect of a spheroid: a number above 0 is needed, given ${aspect}`);
  }
  if (Math.abs(aspect - 1) < 1e-6) return 1;
  if (aspect > 1) {
    const root = Math.sqrt(aspect * aspect - 1);
    return (aspect ** (1 / 3) * Math.log(aspect + root)) / root;
  }
  const flat = 1 / aspect;
  const root = Math.sqrt(flat * flat - 1);
  return (flat ** (2 / 3) * Math.atan(root)) / root;
}
