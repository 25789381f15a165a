/** How the fields of a table of text are parted, and which character marks decimals. */
export interface Parting {
  readonly between: ',' | ';' | '\t' | ' ';
  readonly decimal: '.' | ',';
}

const NUMBER: Readonly<Record<'.' | ',', RegExp>> = {
  '.': /^[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/i,
  ',': /^[+-]?(?:\d+,?\d*|,\d+)(?:e[+-]?\d+)?$/i,
};

/** The fields of a line, quotation marks taken off. */
export function splitLine(line: string, { between }: Parting): string[] {
  const fields = between === ' ' ? line.trim().split(/\s+/) : line.split(between);
  for (const [k, field] of fields.entries()) fields[k] = bare(field);
  return fields;
}

/** Without blanks and quotation marks around it. */
function bare(field: string): string {
  const plain = field.trim();
  return plain.length > 1 && plain.startsWith('"') && plain.endsWith('"') ? plain.slice(1, -1).trim() : plain;
}

/** A number written with this decimal mark; null for anything else. */
export function readNumber(field: string, { decimal }: Parting): number | null {
  if (!NUMBER[decimal].test(field)) return null;
  const value = Number(decimal === ',' ? field.replace(',', '.') : field);
  return Number.isFinite(value) ? value : null;
}

const PARTINGS: readonly Parting[] = [
  { between: '\t', decimal: '.' },
  { between: '\t', decimal: ',' },
  { between: ';', decimal: '.' },
  { between: ';', decimal: ',' },
  { between: ',', decimal: '.' },
  { between: ' ', decimal: '.' },
  { between: ' ', decimal: ',' },
];

/** So many lines, spread over the file, show how it is parted. */
const TRIED = 120;

/** The parting under which most lines are made of two numbers and more, else hold them; null where none does. */
export function findParting(lines: readonly string[]): Parting | null {
  const stride = Math.max(1, Math.floor(lines.length / TRIED));
  const tried = lines.filter((_, k) => k % stride === 0);
  for (const pure of [true, false]) {
    let best: Parting | null = null;
    let most = 0;
    for (const parting of PARTINGS) {
      const good = tried.filter((line) => {
        const fields = splitLine(line, parting).filter((field) => field !== '');
        const numbers = fields.filter((field) => readNumber(field, parting) !== null).length;
        return numbers >= 2 && (!pure || numbers === fields.length);
      }).length;
      if (good > most) {
        most = good;
        best = parting;
      }
    }
    if (best !== null) return best;
  }
  return null;
}
