import { MINIMUM_DESIGN } from '../src/science/counting/index.ts';
import {
  answered,
  type CellAnswer,
  detectionRate,
  FALSE_DETECTIONS,
  MISSES,
  missRate,
  standardError,
} from './calibrate-cell.ts';
import { SEED } from './calibrate-cells.ts';
import { PUBLISHED_RULES } from './calibrate-rules.ts';

const percent = (rate: number): string => `${(100 * rate).toFixed(1)}`;
const number = (x: number): string =>
  Math.abs(x) >= 100 ? x.toFixed(0) : Math.abs(x) >= 10 ? x.toFixed(1) : x.toFixed(2);

/** Whether a rate is above its goal by more than chance (three standard errors), above it at all, or not. */
export type Verdict = 'met' | 'within chance' | 'missed';

export function verdictOf(rate: number, goal: number, n: number): Verdict {
  if (rate <= goal) return 'met';
  return rate - 3 * standardError(goal, n) > goal ? 'missed' : 'within chance';
}

export interface Summary {
  readonly cells: number;
  readonly refusedCells: number;
  readonly studies: number;
  readonly worstFalse: CellAnswer | null;
  readonly worstMiss: CellAnswer | null;
  readonly worstLimit: CellAnswer | null;
  readonly missed: readonly CellAnswer[];
  readonly withinChance: readonly CellAnswer[];
}

export function summaryOf(answers: readonly CellAnswer[]): Summary {
  const live = answers.filter((a) => answered(a.trial) > 0);
  const nulls = live.filter((a) => a.cell.truth.releasePerGram === 0);
  const most = (list: readonly CellAnswer[], rate: (a: CellAnswer) => number): CellAnswer | null =>
    list.reduce<CellAnswer | null>((best, a) => (best === null || rate(a) > rate(best) ? a : best), null);
  const verdicts = (a: CellAnswer): Verdict[] => {
    const n = answered(a.trial);
    const out = [verdictOf(missRate(a.trial), MISSES, n)];
    if (a.cell.truth.releasePerGram === 0) out.push(verdictOf(detectionRate(a.trial), FALSE_DETECTIONS, n));
    return out;
  };
  return {
    cells: answers.length,
    refusedCells: answers.length - live.length,
    studies: answers.reduce((sum, a) => sum + a.trial.studies, 0),
    worstFalse: most(nulls, (a) => detectionRate(a.trial)),
    worstMiss: most(live, (a) => missRate(a.trial)),
    worstLimit: most(live, (a) => a.trial.aboveLimit / answered(a.trial)),
    missed: live.filter((a) => verdicts(a).includes('missed')),
    withinChance: live.filter(
      (a) => !verdicts(a).includes('missed') && verdicts(a).includes('within chance'),
    ),
  };
}

/** Where all of them are without release, what is above the goal is the decision's level, which has a section of its own. */
const restOnDecision = (cells: readonly CellAnswer[]): string =>
  cells.length > 0 && cells.every(({ cell }) => cell.truth.releasePerGram === 0)
    ? ' (without release, where the relabelling test decides: its level with many more studies is under “The decision alone”)'
    : '';

/** One cell in words. */
export function named({ cell }: CellAnswer): string {
  const { truth, layout, errors } = cell;
  const shape = (scatter: number): string => (scatter === 0 ? '∞' : String(1 / scatter));
  const parts = [
    `${layout.specimens} + ${layout.controls}`,
    `background ${truth.background}`,
    `release ${truth.releasePerGram}`,
    `shape ${shape(truth.backgroundScatter)}${truth.releaseScatter === truth.backgroundScatter ? '' : `/${shape(truth.releaseScatter)}`}`,
  ];
  if (layout.specimenFraction !== 1 || layout.controlFraction !== 1)
    parts.push(`fractions ${layout.specimenFraction}/${layout.controlFraction}`);
  if (layout.spikes > 0) parts.push(`recovery ${truth.recovery} ± ${truth.recoverySd}`);
  if (errors)
    parts.push(
      `specks ${errors.specksSpecimen}/${errors.specksControl}, keeps ${errors.sensitivity}/${errors.falseRate}`,
    );
  return parts.join(', ');
}

function row(a: CellAnswer): string {
  const n = answered(a.trial);
  if (n === 0) return `| ${named(a)} | refused | | | | | | ${PUBLISHED_RULES.map(() => '').join(' | ')} |`;
  const t = a.trial;
  const rules = a.rules.map(
    (r) => percent(r.detected / n) + (r.covered === null ? '' : ` (${percent(r.covered / n)})`),
  );
  const refused = t.refused === 0 ? '' : ` (${t.refused} refused)`;
  const cells = [
    named(a) + refused,
    percent(detectionRate(t)),
    percent(1 - missRate(t)),
    percent(1 - t.aboveLimit / n),
    number(t.medianWidth),
    number(t.medianValue),
    number(t.meanValue - a.cell.truth.releasePerGram),
    ...rules,
  ];
  return `| ${cells.join(' | ')} |`;
}

const HEAD = [
  'cell',
  'detected %',
  '95 % interval covers %',
  '95 % limit covers %',
  'median width',
  'median',
  'bias',
  ...PUBLISHED_RULES.map((r) => r.name),
];

/** What the published rules do over all cells without release. */
export function ruleLines(answers: readonly CellAnswer[]): string[] {
  const nulls = answers.filter(
    (a) => a.cell.truth.releasePerGram === 0 && answered(a.trial) > 0 && !a.cell.errors,
  );
  const live = answers.filter((a) => answered(a.trial) > 0 && !a.cell.errors);
  const line = (name: string, rates: readonly number[], covers: readonly number[] | null): string => {
    const mean = rates.reduce((s, x) => s + x, 0) / rates.length;
    const over = rates.filter((x) => x > FALSE_DETECTIONS).length;
    const least = covers && covers.length > 0 ? percent(Math.min(...covers)) : '—';
    return `| ${name} | ${percent(mean)} | ${percent(Math.max(...rates))} | ${over} of ${rates.length} | ${least} |`;
  };
  return [
    '| rule | false detections, mean % | worst % | cells above 5.5 % | least coverage % |',
    '|---|---|---|---|---|',
    line(
      '**ours**',
      nulls.map((a) => detectionRate(a.trial)),
      live.map((a) => 1 - missRate(a.trial)),
    ),
    ...PUBLISHED_RULES.map((rule, i) =>
      line(
        rule.name,
        nulls.map((a) => a.rules[i]!.detected / answered(a.trial)),
        live.every((a) => a.rules[i]!.covered !== null)
          ? live.map((a) => (a.rules[i]!.covered ?? 0) / answered(a.trial))
          : null,
      ),
    ),
  ];
}

/** The page; `asked` is how many cells were to be drawn. */
export function page(answers: readonly CellAnswer[], date: string, asked: number): string {
  const s = summaryOf(answers);
  const worst = (a: CellAnswer | null, rate: (a: CellAnswer) => number): string => {
    if (!a) return 'none';
    const n = answered(a.trial);
    return `${percent(rate(a))} ± ${percent(standardError(rate(a), n))} % (${named(a)}; ${n} studies)`;
  };
  const blocks = [...new Set(answers.map((a) => a.cell.block))];
  const lines = [
    '# Calibration of what a claim says',
    '',
    `Written by \`npm run calibrate\` on ${date}, seed ${SEED}: ${s.studies} virtual studies in ${s.cells} cells (${s.refusedCells} of them below the minimum design, where a study's claim is refused)${asked > s.cells ? `; ${asked - s.cells} cells more were not drawn for want of time` : ''}.`,
    "Nothing here is measured in a laboratory: each study is drawn from a known truth, and what the program says (`judge`, as for a study of one's own) is held against it.",
    '',
    '## Goals and outcome',
    '',
    `- Goal: false detections at most 5.5 % (one-sided 5 % decision) and 95 % intervals that cover at least 94 % of the time, in every cell that meets the minimum: ${MINIMUM_DESIGN}.`,
    `- Worst false detection: ${worst(s.worstFalse, (a) => detectionRate(a.trial))}.`,
    `- Worst coverage: ${worst(s.worstMiss, (a) => 1 - missRate(a.trial))}.`,
    `- Worst cover of the one-sided 95 % upper limit: ${worst(s.worstLimit, (a) => 1 - a.trial.aboveLimit / answered(a.trial))}.`,
    `- Cells that miss a goal by more than chance (three standard errors): ${s.missed.length}${s.missed.map((a) => `; ${named(a)}`).join('')}.`,
    `- Cells above a goal but within chance: ${s.withinChance.length}${restOnDecision(s.withinChance)}${s.withinChance.map((a) => `; ${named(a)}`).join('')}.`,
    '',
    `A cell has from ${least(answers)} studies; its Monte Carlo standard error is √(p(1 − p)/n), ${percent(standardError(0.05, least(answers)))} % on a rate of 5 % with the fewest. A cell whose first draw was not clear of a goal by one standard error was drawn again with another seed and four times the studies, and the second draw alone is shown. \`npm run calibrate\` draws the whole grid with ${1000} studies without release and ${600} with; \`--half\` and \`--factor\` draw less.`,
    '',
    '## Beside the published rules',
    '',
    'All rules on the same studies (cells with natural specks left out, where counts alone cannot answer). “Detected” for rules of spread: the mean specimen run above mean + k SD of the control runs.',
    '',
    ...ruleLines(answers),
    '',
    'Sources of the rules: mean + 3 SD and + 10 SD, Long & Winefordner 1983 and Keith et al. 1983 (from memory, unverified); Currie 1968, Anal. Chem. 40:586; conditional Poisson, Przyborowski & Wilenski 1940; Welch 1947; subtraction with √N error, common practice, no source.',
    '',
    'Columns below: share of studies called above the background; share of 95 % intervals that hold the true release; share of one-sided 95 % upper limits at or above it; median width of the interval, median estimate and mean error, all per gram; then the share that each published rule calls above, with the coverage of its interval in brackets where it gives one. Shape is that of the negative binomial on both sides (background/release where they differ); ∞ is Poisson.',
    '',
  ];
  for (const block of blocks) {
    lines.push(`## ${block}`, '', `| ${HEAD.join(' | ')} |`, `|${HEAD.map(() => '---').join('|')}|`);
    lines.push(...answers.filter((a) => a.cell.block === block).map(row), '');
  }
  return lines.join('\n');
}

const least = (answers: readonly CellAnswer[]): number =>
  Math.min(...answers.filter((a) => answered(a.trial) > 0).map((a) => a.trial.studies));
