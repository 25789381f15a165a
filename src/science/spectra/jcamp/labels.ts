/** One labelled data record, `##LABEL= text`, with the number of the line where it begins (from 1). */
export interface LabelledRecord {
  readonly label: string;
  readonly text: string;
  readonly line: number;
  /** The lines that follow, each with its number; comments taken off. */
  readonly lines: readonly { readonly text: string; readonly line: number }[];
}

/** Labels are compared without case, blanks, dashes, slashes and underlines, as the standard asks. */
export const plainLabel = (label: string): string => label.toUpperCase().replace(/[\s\-/_]/g, '');

/** All labelled records of a file, in order. Text before the first is passed over; `$$` begins a comment. */
export function labelledRecords(text: string): LabelledRecord[] {
  const records: { label: string; text: string; line: number; lines: { text: string; line: number }[] }[] =
    [];
  for (const [index, whole] of text.split(/\r\n|\r|\n/).entries()) {
    const line = whole.replace(/\$\$.*$/, '');
    const head = /^\s*##([^=]*)=(.*)$/.exec(line);
    if (head) {
      records.push({ label: plainLabel(head[1]!), text: head[2]!.trim(), line: index + 1, lines: [] });
    } else if (records.length > 0 && line.trim() !== '') {
      records.at(-1)!.lines.push({ text: line.trim(), line: index + 1 });
    }
  }
  return records;
}
