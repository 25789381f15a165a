import type { ClaimJson, IntervalJson, SizesJson } from '../api/index.ts';

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
const figure = (n: number): string => (n === 0 ? '0' : String(Number(n.toPrecision(3))).replace('-', '−'));

const percent = (share: number): string => `${figure(100 * share)} %`;

/** Scatter between runs with its interval; where that is nearly all that was thought possible, counts said nothing. */
function scatterWords({ value, lower, upper }: IntervalJson): string {
  if (lower < 0.06 && upper > 1.4) return 'not told by these counts';
  return `${percent(value)} (${figure(100 * lower)} to ${percent(upper)})`;
}

/** A scheme of size bands, one band a line. */
function sizeWords(scheme: SizesJson[number]): string {
  const lines = scheme.bands.map((band) => {
    const name = `${figure(band.from_um)} to ${figure(band.to_um)} µm`.padEnd(20);
    if (band.seen !== 'counted' || band.net_per_gram === null)
      return `  ${name}${band.seen.replaceAll('-', ' ')}`;
    const { value, lower, upper } = band.net_per_gram;
    return `  ${name}${`${band.specimens} against ${band.controls}`.padEnd(16)}${figure(value)} (${figure(lower)} to ${figure(upper)}) net per gram${band.chance_of_finding === null ? '' : `, ${percent(band.chance_of_finding)} found`}`;
  });
  const outside = scheme.below + scheme.above;
  const rest = outside > 0 ? [`  ${outside} outside the bands`] : [];
  return `\nBy size, bands of ${scheme.name}\n${[...lines, ...rest].join('\n')}\n`;
}

/** The claim as a page that a beginner understands: the sentence first, then the figures, reasons and next steps. */
export function claimWords(claim: ClaimJson): string {
  const rows: [string, string][] = [];
  const net = claim.net_per_gram;
  if (net) {
    const range = `${figure(net.lower)} to ${figure(net.upper)}, ${figure(100 * net.confidence)} % two-sided`;
    rows.push(['net, per gram', `${figure(net.value)} (${range})`]);
  }
  for (const [name, of] of [
    ['net, per portion', claim.net_per_portion],
    ['net, per piece', claim.net_per_piece],
  ] as const) {
    if (of) rows.push([name, `${figure(of.value)} (${figure(of.lower)} to ${figure(of.upper)})`]);
  }
  if (claim.upper_limit_per_gram !== null)
    rows.push([
      'fewer than, per gram',
      `${figure(claim.upper_limit_per_gram)}${net ? ` (${figure(100 * net.confidence)} % one-sided)` : ''}`,
    ]);
  const { background, thresholds } = claim;
  const n = (of: Readonly<Record<string, unknown>>, name: string): number | null =>
    typeof of[name] === 'number' ? of[name] : null;
  const mean = n(background, 'mean_per_run');
  if (mean !== null) {
    const [lower, upper] = [n(background, 'lower') ?? mean, n(background, 'upper') ?? mean];
    const runs = `${background.count} on ${background.runs} control${background.runs === 1 ? '' : 's'}`;
    rows.push(['background, per run', `${figure(mean)} (${figure(lower)} to ${figure(upper)}): ${runs}`]);
  }
  const decision = n(thresholds, 'deciding_count');
  if (decision !== null)
    rows.push(['above background from', `${decision} particles on all portions together`]);
  const byPoisson = n(thresholds, 'decision_count');
  if (byPoisson !== null && decision !== byPoisson)
    rows.push([
      '',
      decision !== null && byPoisson > decision
        ? `${byPoisson} by Poisson: runs that share so evenly scatter less`
        : `${byPoisson} if runs scattered no more than Poisson`,
    ]);
  const least = n(thresholds, 'detection_per_gram');
  if (least !== null) {
    const assumed = thresholds.decided_by === 'conditional-exact' ? '' : ', if runs scattered as Poisson';
    rows.push(['least that would be seen', `${figure(least)} net per gram${assumed}`]);
  }
  for (const test of claim.tests.filter((t) => t.primary === true)) {
    rows.push([
      'chance of this by luck',
      `p = ${test.p === null ? 'not reckoned' : figure(test.p)} (${test.name})`,
    ]);
  }
  const { joint, natural_kept: natural, robustness } = claim;
  if (joint) {
    rows.push([
      'chance of being above',
      `${percent(joint.probability_above)} (the background, given these counts)`,
    ]);
    const { specimens, controls } = joint.scatter;
    rows.push([
      'scatter between runs',
      `specimen runs ${scatterWords(specimens)}, controls ${scatterWords(controls)}, beyond counting`,
    ]);
  }
  if (natural)
    rows.push([
      'natural pieces among it',
      `${figure(natural.value)} (${figure(natural.lower)} to ${figure(natural.upper)})`,
    ]);
  if (robustness && robustness.judged > 0)
    rows.push(['other ways to judge it', `${robustness.agreeing} of ${robustness.judged} read the same`]);
  const table = rows.map(([name, value]) => `  ${name.padEnd(26)}${value}`).join('\n');
  const others = claim.comparison.map(
    (rule) => `${rule.name}: ${rule.reads}${rule.deceives ? ` — ${rule.deceives}` : ''}`,
  );
  const differing = (robustness?.rows ?? [])
    .filter((row) => row.above !== null && !row.agrees)
    .map((row) => `${row.what}, ${row.choice}: ${row.above ? 'above' : 'not above'} the background`);
  const bands = (claim.sizes ?? []).map((scheme) => sizeWords(scheme));
  return [
    `${wrapped(claim.sentence, '', '')}\n`,
    table === '' ? '' : `\n${table}\n`,
    list('Because', claim.because),
    list('What would move it', claim.next),
    list('Judged otherwise it would read otherwise', differing),
    list('What other published rules would say', others),
    ...bands,
  ].join('');
}
