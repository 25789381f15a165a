import type { ClaimJson } from '../api/index.ts';

const WIDTH = 88;

/** Breaks a sentence into lines that a terminal shows whole. */
export function wrapped(text: string, first: string, rest: string): string {
  const lines: string[] = [];
  let line = first;
  for (const word of text.split(' ')) {
    if (line.length + word.length + 1 > WIDTH && line.trim() !== '') {
      lines.push(line);
      line = rest;
    }
    line += line === first || line === rest ? word : ` ${word}`;
  }
  return [...lines, line].join('\n');
}

const list = (title: string, entries: readonly string[]): string =>
  entries.length === 0 ? '' : `\n${title}\n${entries.map((e) => wrapped(e, '  · ', '    ')).join('\n')}\n`;

/** Three figures that mean something; the machine-readable form has them all. */
const figure = (n: number): string => (n === 0 ? '0' : String(Number(n.toPrecision(3))));

/** The claim as a page that a beginner understands: the sentence first, then the figures, reasons and next steps. */
export function claimWords(claim: ClaimJson): string {
  const rows: [string, string][] = [];
  const net = claim.net_per_gram;
  if (net) {
    const range = `${figure(net.lower)} to ${figure(net.upper)}, ${figure(100 * net.confidence)} % confidence`;
    rows.push(['net, per gram', `${figure(net.value)} (${range})`]);
  }
  if (claim.upper_limit_per_gram !== null)
    rows.push(['fewer than, per gram', figure(claim.upper_limit_per_gram)]);
  const { background, thresholds } = claim;
  const n = (of: Readonly<Record<string, unknown>>, name: string): number | null =>
    typeof of[name] === 'number' ? of[name] : null;
  const mean = n(background, 'mean_per_run');
  if (mean !== null) {
    const [lower, upper] = [n(background, 'lower') ?? mean, n(background, 'upper') ?? mean];
    const runs = `${background.count} on ${background.runs} control${background.runs === 1 ? '' : 's'}`;
    rows.push(['background, per run', `${figure(mean)} (${figure(lower)} to ${figure(upper)}): ${runs}`]);
  }
  const decision = n(thresholds, 'decision_count');
  if (decision !== null)
    rows.push(['above background from', `${decision} particles on all portions together`]);
  const least = n(thresholds, 'detection_per_gram');
  if (least !== null) rows.push(['least that would be seen', `${figure(least)} net per gram`]);
  for (const test of claim.tests.filter((t) => t.primary === true)) {
    rows.push([
      'chance of this by luck',
      `p = ${test.p === null ? 'not reckoned' : figure(test.p)} (${test.name})`,
    ]);
  }
  const table = rows.map(([name, value]) => `  ${name.padEnd(26)}${value}`).join('\n');
  const others = claim.comparison.map(
    (rule) => `${rule.name}: ${rule.reads}${rule.deceives ? ` — ${rule.deceives}` : ''}`,
  );
  return [
    `${wrapped(claim.sentence, '', '')}\n`,
    table === '' ? '' : `\n${table}\n`,
    list('Because', claim.because),
    list('What would move it', claim.next),
    list('What other published rules would say', others),
  ].join('');
}
