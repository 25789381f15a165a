/** Laser lines usual in Raman instruments, nm (common practice, no source). */
const LINES_NM = [325, 405, 442, 457.9, 473, 488, 514.5, 532, 561, 632.8, 638, 660, 671, 785, 830, 976, 1064];

/** Raman shift of a wavelength, cm⁻¹: 10⁷/laser − 10⁷/wavelength. */
export const ramanShift = (laserNm: number, wavelengthNm: number): number =>
  1e7 / laserNm - 1e7 / wavelengthNm;

/**
 * The usual laser line that an axis in nm belongs to: the axis begins within 400 cm⁻¹ of it on either side and reaches
 * beyond 1500 cm⁻¹. Of several, the one nearest below the beginning, else the nearest above. Null where none fits.
 */
export function laserOf(firstNm: number, lastNm: number): number | null {
  const fitting = LINES_NM.filter((line) => {
    const from = ramanShift(line, firstNm);
    const to = ramanShift(line, lastNm);
    return from > -400 && from < 400 && to > 1500 && to < 5000;
  });
  const inside = fitting.filter((line) => line >= firstNm);
  const below = fitting.filter((line) => line < firstNm);
  return inside[0] ?? below.at(-1) ?? null;
}
