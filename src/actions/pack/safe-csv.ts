import type { Json } from '../../study/index.ts';
import { done, type Outcome, refused } from '../../units/index.ts';
import type { ColumnShape, Row } from './archive-ports.ts';

/** How nothing is written, so that it differs from an empty text. */
export const NOTHING = '\\N';
/** Beginnings that a spreadsheet would take for a formula, and our own sign. */
const DANGEROUS = /^[=+\-@\t\r'\\]/;

const isNumber = (type: string): boolean =>
  /^(double precision|real|numeric|smallint|integer|bigint)$/.test(type);
const isText = (type: string): boolean =>
  /^(text|uuid|date|timestamp|character)/.test(type) && !type.endsWith('[]');

/**
 * Rows as CSV (RFC 4180). Text that a spreadsheet would take for a formula has an apostrophe before it; numbers are
 * written bare; lists and structures as JSON; nothing as \N.
 */
export function writeCsv(columns: readonly ColumnShape[], rows: readonly Row[]): string {
  const lines = [columns.map(({ name }) => quoted(name)).join(',')];
  for (const row of rows)
    lines.push(columns.map((column) => cell(row[column.name] ?? null, column)).join(','));
  return `${lines.join('\r\n')}\r\n`;
}

function cell(value: Json, { type }: ColumnShape): string {
  if (value === null) return NOTHING;
  if (isNumber(type) || type === 'boolean') return String(value);
  const text = isText(type) ? String(value) : JSON.stringify(value);
  return quoted(DANGEROUS.test(text) ? `'${text}` : text);
}

const quoted = (text: string): string => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

/** Reads what `writeCsv` wrote, by the columns of the schema. Refuses with the line. */
export function readCsv(text: string, columns: readonly ColumnShape[], name: string): Outcome<Row[]> {
  const wrong = (line: number, message: string) =>
    refused({
      why: 'damaged-table',
      message: `${name}, line ${line}: ${message}; take the archive from its source again.`,
    });
  const lines = fieldsOf(text);
  if (lines === null) return wrong(1, 'a quotation mark is never closed');
  const [head, ...body] = lines;
  if (!head) return wrong(1, 'the heading is missing');
  const byName = new Map(columns.map((column) => [column.name, column]));
  const shapes: ColumnShape[] = [];
  for (const title of head) {
    const shape = byName.get(title);
    if (!shape) return wrong(1, `the column “${title.slice(0, 60)}” is not known to this version`);
    shapes.push(shape);
  }
  const rows: Row[] = [];
  for (const [at, fields] of body.entries()) {
    if (fields.length !== shapes.length)
      return wrong(at + 2, `it has ${fields.length} fields of ${shapes.length}`);
    const row: Record<string, Json> = {};
    for (const [k, shape] of shapes.entries()) {
      const value = readCell(fields[k]!, shape);
      if (value === undefined)
        return wrong(at + 2, `“${fields[k]!.slice(0, 40)}” is no ${shape.type} (${shape.name})`);
      row[shape.name] = value;
    }
    rows.push(row);
  }
  return done(rows);
}

function readCell(field: string, { type }: ColumnShape): Json | undefined {
  if (field === NOTHING) return null;
  if (isNumber(type)) {
    const value = Number(field);
    return field.trim() !== '' && Number.isFinite(value) ? value : undefined;
  }
  if (type === 'boolean') return field === 'true' ? true : field === 'false' ? false : undefined;
  const text = field.startsWith("'") ? field.slice(1) : field;
  if (isText(type)) return text;
  try {
    return JSON.parse(text) as Json;
  } catch {
    return undefined;
  }
}

/** All fields of all lines; null where a quotation mark stays open. */
function fieldsOf(text: string): string[][] | null {
  const lines: string[][] = [];
  let fields: string[] = [];
  let at = 0;
  while (at < text.length) {
    let field = '';
    if (text[at] === '"') {
      for (at++; ; ) {
        const end = text.indexOf('"', at);
        if (end < 0) return null;
        field += text.slice(at, end);
        if (text[end + 1] !== '"') {
          at = end + 1;
          break;
        }
        field += '"';
        at = end + 2;
      }
    } else {
      const rest = /[,\r\n]/g;
      rest.lastIndex = at;
      const end = rest.exec(text)?.index ?? text.length;
      field = text.slice(at, end);
      at = end;
    }
    fields.push(field);
    if (text[at] === ',') {
      at++;
      if (at === text.length) fields.push('');
      continue;
    }
    if (text[at] === '\r') at++;
    if (text[at] === '\n') at++;
    lines.push(fields);
    fields = [];
  }
  if (fields.length > 0) lines.push(fields);
  return lines;
}
