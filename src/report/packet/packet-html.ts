/** The packet for a second opinion: one page that works from disk without a network, shows pictures by code, and gives a text back. */
import { roundLength } from '../charts/index.ts';
import { escaped } from '../charts/markup.ts';
import { PACKET_SCRIPT } from './packet-script.ts';
import { PACKET_STYLE } from './packet-style.ts';

export interface PacketPicture {
  readonly code: string;
  readonly pass: 1 | 2;
  /** Whether a guess of specimen or control is asked too. */
  readonly guess: boolean;
  readonly widthUm: number | null;
  /** JPEG as base64. */
  readonly jpeg: string;
}

export interface Packet {
  readonly round: string;
  readonly roundName: string;
  readonly study: string;
  readonly invented: boolean;
  readonly reader: string;
  readonly readerName: string;
  readonly keyHash: string;
  readonly madeAt: string;
  readonly pictures: readonly PacketPicture[];
}

function card({ code, pass, guess, widthUm, jpeg }: PacketPicture, at: number, of: number): string {
  const key = `${code}-${pass}`;
  const bar = widthUm === null ? null : roundLength(widthUm / 3);
  const choice = (name: string, value: string, words: string, sign: string) =>
    `<label class="choice"><input type="radio" name="${name}-${key}" value="${value}"><span>${words}${sign ? ` <kbd>${sign}</kbd>` : ''}</span></label>`;
  return `<section class="card" id="card-${at}" data-code="${code}" data-pass="${pass}" data-guess="${guess}" aria-label="Picture ${at} of ${of}"${at > 1 ? ' hidden' : ''}>
<figure><img src="data:image/jpeg;base64,${jpeg}" alt="A piece on a filter; its code is ${code}.">
${bar ? `<figcaption><i style="width:${((100 * bar) / widthUm!).toFixed(1)}%"></i> ${bar >= 1000 ? `${bar / 1000} mm` : `${bar} µm`}</figcaption>` : '<figcaption>without a scale</figcaption>'}</figure>
<fieldset><legend>What is the piece in the middle?</legend>
${choice('called', 'plastic', 'Plastic', '1')}${choice('called', 'other', 'Something else', '2')}${choice('called', 'cannot-tell', 'Cannot tell', '3')}</fieldset>
${guess ? `<fieldset><legend>And a guess: where does the picture come from?</legend>${choice('guess', 'specimen', 'A run on the product', '4')}${choice('guess', 'control', 'A control', '5')}</fieldset>` : ''}
</section>`;
}

/** One self-contained page. Nothing is loaded, nothing is sent; the key is not in it, only its hash. */
export function packetHtml(packet: Packet): string {
  const { pictures } = packet;
  const facts = JSON.stringify({
    round: packet.round,
    reader: packet.reader,
    key: packet.keyHash,
  }).replaceAll('<', '\\u003c');
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src data:; style-src 'unsafe-inline'; script-src 'unsafe-inline'">
<title>A second opinion: ${escaped(packet.roundName)}</title><style>${PACKET_STYLE}</style></head><body>
<header><h1>A second opinion</h1>
<p>${escaped(packet.readerName)}, thank you for looking. Here are ${pictures.length} pictures of pieces from filters, in an order made by chance, turned, under
codes. Some are of pieces whose nature is known; some come twice. Please say of each what the piece in the middle is. “Cannot tell” is a good
answer. It takes about ${Math.max(2, Math.round(pictures.length / 4))} minutes; nothing leaves this page by itself, and it works without a network.</p>
${packet.invented ? '<p class="invented"><strong>Invented example.</strong> Everything in it was made up and drawn by the program.</p>' : ''}
<noscript><p class="invented">This page needs script to gather the answers. Without it, write code and answer on paper: every picture has its code.</p></noscript></header>
<main>
${pictures.map((picture, k) => card(picture, k + 1, pictures.length)).join('\n')}
<section class="card" id="card-end" hidden aria-label="Your answers"><h2>Your answers</h2>
<p id="left" role="status"></p>
<textarea id="answers" rows="10" readonly aria-label="Answers as text"></textarea>
<p><button type="button" id="copy">Copy the text</button> <button type="button" id="save">Save as a file</button></p>
<p>Send the text or the file back in any way you like. Study: ${escaped(packet.study)}.</p></section>
</main>
<nav aria-label="Pictures"><button type="button" id="before">← Before</button><span id="place" role="status"></span><button type="button" id="after">Next →</button></nav>
<footer><details><summary>About this packet</summary><p>Round “${escaped(packet.roundName)}”, made ${escaped(packet.madeAt.slice(0, 10))}. Which picture is whose is kept
sealed by those who sent it; SHA-256 of the key: <code>${escaped(packet.keyHash)}</code>. After all have answered it is opened, and anybody can compare.</p></details></footer>
<script type="application/json" id="facts">${facts}</script>
<script>${PACKET_SCRIPT}</script>
</body></html>
`;
}
