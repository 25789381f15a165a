import { sha256 } from '../../study/index.ts';
import { figure } from '../charts/index.ts';
import { escaped } from '../charts/markup.ts';
import type { RecountData } from '../recount.ts';
import type { Block, PictureOfPiece, Report } from '../tree.ts';
import { cellText } from './markdown.ts';
import { STYLE } from './style.ts';

/** The recount for readers: its program as one classic script, and what it works on. */
export interface Reader {
  readonly script: string;
  readonly data: RecountData;
}

/**
 * One file that needs nothing else: no network, no font, no account. Every text is escaped; the page forbids itself everything
 * but its own style, its own pictures and the one script whose hash it names.
 */
export function htmlOf(report: Report, reader: Reader | null): string {
  const script = reader === null ? null : reader.script.replaceAll('</script', '<\\/script');
  const policy = [
    "default-src 'none'",
    'img-src data:',
    "style-src 'unsafe-inline'",
    ...(script === null ? [] : [`script-src 'sha256-${base64OfHex(sha256(script))}'`]),
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
  const sections = report.sections.map(
    (section) =>
      `<section id="${escaped(section.id)}"><h2>${escaped(section.title)}</h2>${
        section.lead ? `<p class="lead">${escaped(section.lead)}</p>` : ''
      }${section.blocks.map((block) => blockHtml(block, reader !== null)).join('')}</section>`,
  );
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${escaped(policy)}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="generator" content="${escaped(report.program)}">
<title>${escaped(report.title)}</title>
<style>${STYLE}</style>
</head>
<body>
<header><h1>${escaped(report.title)}</h1><p class="subtitle">${escaped(report.subtitle)}</p>${report.remarks
    .map((remark) => `<p class="remark">${escaped(remark)}</p>`)
    .join('')}</header>
<nav aria-label="Contents"><ol>${report.sections
    .map((section) => `<li><a href="#${escaped(section.id)}">${escaped(section.title)}</a></li>`)
    .join('')}</ol></nav>
<main>${sections.join('\n')}</main>
<footer class="made">Made by ${escaped(report.program)} at ${escaped(report.madeAt)}. This file needs no network.</footer>
${reader === null ? '' : `<script type="application/json" id="recount-data">${jsonInHtml(reader.data)}</script>\n<script>${script}</script>`}
</body>
</html>
`;
}

function blockHtml(block: Block, reader: boolean): string {
  switch (block.kind) {
    case 'paragraph':
      return `<p>${escaped(block.text)}</p>`;
    case 'heading':
      return `<h3>${escaped(block.text)}</h3>`;
    case 'claim':
      return `<p class="claim">${escaped(block.text)}</p>`;
    case 'list': {
      const name = block.ordered ? 'ol' : 'ul';
      return `<${name}>${block.items.map((item) => `<li>${escaped(item)}</li>`).join('')}</${name}>`;
    }
    case 'cautions':
      return `<div class="cautions"><ul>${block.items.map((item) => `<li>${escaped(item)}</li>`).join('')}</ul></div>`;
    case 'facts':
      return `<dl class="facts">${block.rows
        .map(
          ([name, value, note]) =>
            `<div><dt>${escaped(name)}</dt><dd>${escaped(value)}${note ? `<small>${escaped(note)}</small>` : ''}</dd></div>`,
        )
        .join('')}</dl>`;
    case 'table':
      return tableHtml(block);
    case 'chart':
      return `<figure>${block.svg}${block.caption === '' ? '' : `<figcaption>${escaped(block.caption)}</figcaption>`}</figure>`;
    case 'charts':
      return `<div class="discs">${block.charts
        .map(
          ({ svg, caption }) =>
            `<figure class="disc">${svg}<figcaption>${escaped(caption)}</figcaption></figure>`,
        )
        .join('')}</div>`;
    case 'pieces':
      return `<div class="pieces">${block.pieces.map(pieceHtml).join('')}</div>`;
    case 'recount':
      return reader
        ? '<div id="recount" class="recount" hidden><h3>Count it yourself</h3></div><noscript><p class="lead">With scripts allowed, this page lets you re-class pieces and see the number move.</p></noscript>'
        : '';
  }
}

/** Columns from which a table is set narrower, so that the last one is not cut. */
const MANY = 10;

function tableHtml(block: Extract<Block, { kind: 'table' }>): string {
  const cls = (i: number) =>
    block.columns[i]?.numeric
      ? ' class="n"'
      : block.columns[i]?.tight
        ? ' class="t"'
        : block.columns[i]?.wide
          ? ' class="w"'
          : '';
  const head = block.columns
    .map((column, i) => `<th scope="col"${cls(i)}>${escaped(column.head)}</th>`)
    .join('');
  const rows = block.rows.map(
    (row) =>
      `<tr>${row
        .map((cell, i) =>
          cell === null
            ? `<td class="none">${escaped(block.columns[i]?.none ?? '')}</td>`
            : `<td${cls(i)}>${escaped(cellText(cell))}</td>`,
        )
        .join('')}</tr>`,
  );
  const many = block.columns.length >= MANY ? ' many' : '';
  return `<div class="table${many}" role="region" tabindex="0" aria-label="${escaped(block.caption)}"><table><caption>${escaped(block.caption)}</caption><thead><tr>${head}</tr></thead><tbody>${rows.join('')}</tbody></table></div>`;
}

function pieceHtml(piece: PictureOfPiece): string {
  const share = Math.round((1000 * piece.barUm) / piece.widthUm) / 10;
  return `<figure class="piece"><span class="shown"><img src="${dataImage(piece.image)}" alt="${escaped(piece.caption)}"><span class="bar" style="width:${share}%">${escaped(figure(piece.barUm))} µm</span></span><figcaption>${escaped(piece.caption)}</figcaption></figure>`;
}

/** Only our own pictures, never an address. */
function dataImage(image: string): string {
  if (!/^data:image\/(jpeg|png);base64,[A-Za-z0-9+/=]+$/.test(image))
    throw new RangeError(`picture: a data address of a JPEG or PNG is needed, given ${image.slice(0, 40)}`);
  return image;
}

/** JSON that cannot end the element it stands in. */
export const jsonInHtml = (data: unknown): string =>
  JSON.stringify(data)
    .replaceAll('<', '\\u003c')
    .replaceAll('>', '\\u003e')
    .replaceAll('&', '\\u0026')
    .replaceAll('\u2028', '\\u2028')
    .replaceAll('\u2029', '\\u2029');

const DIGITS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';

/** Hexadecimal digits as base64 (RFC 4648), as a page's policy wants its hashes. */
export function base64OfHex(hex: string): string {
  const bytes = hex.match(/../g)?.map((pair) => Number.parseInt(pair, 16)) ?? [];
  let out = '';
  for (let i = 0; i < bytes.length; i += 3) {
    const three = ((bytes[i] ?? 0) << 16) | ((bytes[i + 1] ?? 0) << 8) | (bytes[i + 2] ?? 0);
    for (let k = 0; k < 4; k++) out += i + k > bytes.length ? '=' : DIGITS[(three >> (18 - 6 * k)) & 63];
  }
  return out;
}
