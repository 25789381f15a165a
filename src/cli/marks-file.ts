import { readFile } from 'node:fs/promises';
import papaparse from 'papaparse';
import type { VolumeMark } from '../science/fluids/index.ts';
import { marksFromTable } from '../study/index.ts';
import { type Outcome, refused } from '../units/index.ts';

/** Longest file of marks; a thousand marks are some tens of kilobytes. */
const MOST_BYTES = 2_000_000;

/** Marks from a CSV file: separated by comma, semicolon, tab or spaces, as its heading is. */
export async function marksFromFile(path: string): Promise<Outcome<readonly VolumeMark[]>> {
  let text: string;
  try {
    const bytes = await readFile(path);
    if (bytes.length > MOST_BYTES)
      return refused({ why: 'too-large', message: `${path}: ${bytes.length} bytes are no list of marks.` });
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch (error) {
    const because =
      error instanceof TypeError
        ? 'it is not a text file; save it as CSV'
        : (error as NodeJS.ErrnoException).code === 'ENOENT'
          ? 'there is no such file'
          : (error as Error).message;
    return refused({ why: 'unreadable', message: `${path}: ${because}.` });
  }
  const head = text.split(/\r\n|\r|\n/).find((line) => line.trim() !== '' && !line.startsWith('#')) ?? '';
  const delimiter = [';', '\t', ','].find((one) => head.includes(one)) ?? ' ';
  const rows = papaparse.parse<string[]>(text, { delimiter, skipEmptyLines: false }).data;
  const columns = rows.find((row) => row.join('').trim() !== '' && !row[0]!.startsWith('#'))?.length ?? 0;
  const wide = rows.findIndex((row) => row.length > columns && row.slice(columns).join('').trim() !== '');
  if (wide >= 0) {
    return refused({
      why: 'more-cells-than-headings',
      message: `${path}, line ${wide + 1}: ${rows[wide]!.length} cells under ${columns} headings; with decimal commas, separate the columns by semicolons.`,
    });
  }
  return marksFromTable(rows);
}
