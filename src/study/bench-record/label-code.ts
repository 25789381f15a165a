/**
 * Short codes for labels: seven signs that no hand mixes up (no I, L, O, U, and no Z beside 2), and a check sign. Made from
 * the end of a record's id, so that they need no list. Signs: Crockford's base 32 (open specification), less Z.
 */
const SIGNS = '0123456789ABCDEFGHJKMNPQRSTVWXY';
const LENGTH = 7;

/** Weighted sum modulo the prime number of signs: any one wrong sign and any two exchanged change it. */
const checkOf = (signs: string): string => {
  let sum = 0;
  for (const [at, sign] of [...signs].entries()) sum += (at + 1) * SIGNS.indexOf(sign);
  return SIGNS[sum % SIGNS.length]!;
};

/** The code of a record, such as 7K3QX-2MC. Throws RangeError for what is no id. */
export function labelCode(id: string): string {
  const hex = id.replaceAll('-', '').slice(-9);
  if (!/^[0-9a-f]{9}$/.test(hex)) throw new RangeError(`code: the id of a record is needed, given ${id}`);
  let rest = Number.parseInt(hex, 16) % SIGNS.length ** LENGTH;
  let signs = '';
  for (let n = 0; n < LENGTH; n++) {
    signs = SIGNS[rest % SIGNS.length]! + signs;
    rest = Math.floor(rest / SIGNS.length);
  }
  return `${signs.slice(0, 4)}-${signs.slice(4)}${checkOf(signs)}`;
}

/** A code as somebody typed or read it, in its one form; null where it can't be one. */
export function readLabelCode(text: string): string | null {
  const signs = text
    .toUpperCase()
    .replaceAll(/[\s-]/g, '')
    .replaceAll('O', '0')
    .replaceAll('Z', '2')
    .replaceAll(/[IL]/g, '1');
  if (signs.length !== LENGTH + 1 || [...signs].some((sign) => !SIGNS.includes(sign))) return null;
  const code = signs.slice(0, LENGTH);
  return checkOf(code) === signs[LENGTH] ? `${code.slice(0, 4)}-${code.slice(4)}${signs[LENGTH]}` : null;
}
