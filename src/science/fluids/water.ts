import type { Celsius } from '../../units/index.ts';

/** A still liquid at one temperature. */
export interface Liquid {
  /** kg/m³ */
  readonly densityKgM3: number;
  /** mPa·s */
  readonly viscosityMPaS: number;
}

/** Acceleration of free fall, standard value, m/s². */
export const FREE_FALL = 9.80665;

/** Pure water between freezing and boiling; throws RangeError outside 0…100 °C. */
function between(t: Celsius): number {
  if (!(t >= 0 && t <= 100)) {
    throw new RangeError(`water: a temperature from 0 to 100 °C is needed, given ${t}`);
  }
  return t;
}

/**
 * Density of pure air-free water at 101.325 kPa, kg/m³.
 * Source: Kell 1975, J. Chem. Eng. Data 20:97; within 0.003 kg/m³ of IAPWS-95 from 5 to 40 °C.
 * Holds for: 0–100 °C. Deceives when: something is dissolved.
 */
export function waterDensity(temperature: Celsius): number {
  const t = between(temperature);
  const above =
    999.83952 +
    t * (16.945176 + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 - t * 280.54253e-12))));
  return above / (1 + 16.87985e-3 * t);
}

/**
 * Viscosity of pure water at 0.1 MPa, mPa·s.
 * Source: Pátek et al. 2009, J. Phys. Chem. Ref. Data 38:21 (IAPWS SR6-08); within 0.02 % of the full 2008 formulation.
 * Holds for: 0–100 °C. Deceives when: compared with tables from before 1952, which lie 0.7 % higher.
 */
export function waterViscosity(temperature: Celsius): number {
  const tau = (between(temperature) + 273.15) / 300;
  return (280.68 * tau ** -1.9 + 511.45 * tau ** -7.7 + 61.131 * tau ** -19.6 + 0.45903 * tau ** -40) / 1000;
}

export const water = (temperature: Celsius): Liquid => ({
  densityKgM3: waterDensity(temperature),
  viscosityMPaS: waterViscosity(temperature),
});
