/** The number that was typed, with point or comma; null where it is none. */
export function typedNumber(text: string): number | null {
  const plain = text.trim().replace(',', '.');
  if (!/^-?\d+(\.\d+)?$/.test(plain)) return null;
  return Number(plain);
}
