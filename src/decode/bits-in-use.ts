/**
 * The value of white in 16-bit data. Scientific cameras store 10, 12 or 14 bits in the low end of 16; a photograph of a lit
 * filter uses most of its range, so the smallest of these ranges that holds the brightest pixel is taken, but never less
 * than 10 bits (darker than that in all 16 bits there would be nothing to see).
 */
export function fullOf(brightest: number): number {
  for (const full of [1023, 4095, 16383]) if (brightest <= full) return full;
  return 65535;
}

export function brightestOf(data: Uint16Array): number {
  let most = 0;
  for (let i = 0; i < data.length; i++) if (data[i]! > most) most = data[i]!;
  return most;
}
