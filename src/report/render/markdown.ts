import { figure } from '../charts/index.ts';
import type { Block, Cell, Report } from '../tree.ts';

/** Markdown keeps the words and numbers; pictures are told in words. Every text is escaped, so that none becomes markup. */
export function markdownOf(report: Report): string {
  const lines = [`# ${md(report.title)}`, '', md(report.subtitle), ''];
  for (const remark of report.remarks) lines.push(`**${md(remark)}**`, '');
  for (const section of report.sections) {
    lines.push(`## ${md(section.title)}`, '');
    if (section.lead) lines.push(md(section.lead), '');
    for (const block of section.blocks) lines.push(...blockLines(block));
  }
  lines.push('---', '', `Made by ${md(report.program)}.`, '');
  return lines.join('\n');
}

function blockLines(block: Block): string[] {
  switch (block.kind) {
    case 'paragraph':
      return [md(block.text), ''];
    case 'heading':
      return [`### ${md(block.text)}`, ''];
    case 'claim':
      return [`> ${md(block.text)}`, ''];
    case 'list':
      return [...block.items.map((item, i) => `${block.ordered ? `${i + 1}.` : '-'} ${md(item)}`), ''];
    case 'cautions':
      return [...block.items.map((item) => `- **Take care.** ${md(item)}`), ''];
    case 'facts':
      return [
        ...block.rows.map(
          ([name, value, note]) => `- ${md(name)}: **${md(value)}**${note ? ` (${md(note)})` : ''}`,
        ),
        '',
      ];
    case 'table': {
      const heads = block.columns.map((column) => md(column.head));
      const rule = block.columns.map((column) => (column.numeric ? '--:' : '---'));
      const rows = block.rows.map((row) => row.map((cell, i) => md(cellText(cell, block.columns[i]?.none))));
      return [
        ...[heads, rule, ...rows].map((cells) => `| ${cells.join(' | ')} |`),
        '',
        `*${md(block.caption)}*`,
        '',
      ];
    }
    case 'chart':
      return [`${block.caption === '' ? '' : `*${md(block.caption)}* `}${md(block.words)}`, ''];
    case 'charts':
      return [md(block.words), ''];
    case 'pieces':
      return [...block.pieces.map((piece) => `- ${md(piece.caption)}`), ''];
    case 'recount':
      return [];
  }
}

export const cellText = (cell: Cell, none = ''): string =>
  cell === null ? none : typeof cell === 'number' ? figure(cell) : cell;

/** Characters that Markdown or the HTML inside it would read. */
const md = (text: string): string =>
  text
    .replaceAll(/\s+/g, ' ')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll(/[\\`*_[\]|#~!]/g, (sign) => `\\${sign}`)
    .replaceAll(/^([-+]|\d+\.)(?=\s)/g, '\\$1');
