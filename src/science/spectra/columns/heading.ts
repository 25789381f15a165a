/** What a heading of a column says of it; null where it says nothing that is known. */
export interface Heading {
  readonly axis: string | null;
  readonly ordinate: string | null;
}

const AXES: readonly (readonly [RegExp, string])[] = [
  [/raman|shift/i, 'raman shift'],
  [
    /cm\s*\^?\(?[-−–⁻]\s*[1¹]\)?|1\s*\/\s*cm|wave\s*-?\s*numbers?|wellenzahl|nombre d.onde|reciprocal/i,
    'cm-1',
  ],
  [/[µμu]m\b|micron|micromet/i, 'um'],
  [/\bnm\b|nanomet|\(nm\)/i, 'nm'],
];

const ORDINATES: readonly (readonly [RegExp, string])[] = [
  [/%\s*t\b|percent\s*t|transmittan[cz]e?\s*[[(]?\s*%|%\s*transm/i, '%T'],
  [/transmitt|transmission|^t$/i, 'transmittance'],
  [/%\s*r\b|%\s*reflec|reflectan[cz]e?\s*[[(]?\s*%/i, '%R'],
  [/reflec|^r$/i, 'reflectance'],
  [/absorb|extin[ck]tion|^a$|^abs\.?$|\ba\.?u\.?\b.*abs/i, 'absorbance'],
  [/kubelka/i, 'kubelka-munk'],
  [/intensit|counts?\b|^cts$|^cps$|signal|^i$/i, 'intensity'],
];

/** Reads one heading, such as `cm-1`, `Wavenumber (1/cm)`, `%T`, `Absorbance`, `Raman intensity`. */
export function readHeading(text: string): Heading {
  const plain = text.trim();
  const find = (table: readonly (readonly [RegExp, string])[]) =>
    table.find(([pattern]) => pattern.test(plain))?.[1] ?? null;
  const ordinate = find(ORDINATES);
  // “Raman intensity” is an ordinate, “Raman shift” an axis.
  const axis = ordinate !== null && !/shift|cm|wave/i.test(plain) ? null : find(AXES);
  return { axis, ordinate: axis === null ? ordinate : null };
}
