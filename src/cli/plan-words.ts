import { chanceWords, designWords, type PlanReport } from '../study/index.ts';
import { wrapped } from './claim-words.ts';
import { figure, list, table } from './page-words.ts';

const cell = (n: number | null, write: (n: number) => string = figure): string =>
  n === null ? '–' : write(n);

const sight = (n: number | null): string => (n === null ? 'none, by so few runs' : `${figure(n)} per gram`);

/** A table with a line of names above it, columns to the right of their widest. */
function columns(head: readonly string[], rows: readonly (readonly string[])[], best: number | null): string {
  const widths = head.map((name, k) => Math.max(name.length, ...rows.map((row) => row[k]!.length)));
  const line = (cells: readonly string[]) => cells.map((text, k) => text.padStart(widths[k]!)).join('  ');
  return [`\n  ${line(head)}`, ...rows.map((row, k) => `${k === best ? '→ ' : '  '}${line(row)}`), ''].join(
    '\n',
  );
}

/** The plan as a page that a beginner understands: the sentence first, then the designs, reasons, what to do, what was assumed. */
export function planWords(plan: PlanReport): string {
  const { designs, best, have } = plan;
  const amounts = designs.some((d) => d.chance_amount !== null);
  const tested = designs.some((d) => d.tested_pieces > 0);
  const chances = designs.some((d) => d.chance_above !== null);
  const head = [
    'runs',
    'controls',
    'spiked',
    ...(tested ? ['tested'] : []),
    'hours',
    ...(chances ? ['seen'] : []),
    ...(amounts ? ['amount'] : []),
    'seen 80 %',
    'seen 95 %',
    'fewer than',
  ];
  const rows = designs.map((d) => [
    String(d.specimen_runs),
    String(d.controls),
    String(d.spiked_runs),
    ...(tested ? [String(d.tested_pieces)] : []),
    figure(d.hours),
    ...(chances ? [cell(d.chance_above, chanceWords)] : []),
    ...(amounts ? [cell(d.chance_amount, chanceWords)] : []),
    cell(d.smallest_80_per_gram),
    cell(d.smallest_95_per_gram),
    cell(d.limit_per_gram),
  ]);
  const legend = [
    ...(chances ? ['seen: chance that the release is called more than the background'] : []),
    ...(amounts ? ['amount: chance that its amount can be stated too'] : []),
    'seen 80 %, 95 %: smallest release per gram seen with that chance',
    'fewer than: limit per gram that you could state if nothing is released',
  ];
  const reach: [string, string][] = have
    ? [
        ['you have', designWords(have)],
        ['seen with 80 % chance', sight(have.smallest_80_per_gram)],
        ['seen with 95 % chance', sight(have.smallest_95_per_gram)],
        [
          'limit if none is released',
          have.limit_per_gram === null ? 'none can be claimed' : `${figure(have.limit_per_gram)} per gram`,
        ],
      ]
    : [];
  const assumed = plan.assumed.map((a) => {
    const value =
      a.unit === 'share' || a.unit === 'share of the mean'
        ? `${figure(100 * a.value)} %`
        : `${figure(a.value)} ${a.unit}`;
    return `${a.name}: ${value}${a.given ? '' : ` (assumed: ${a.because})`}`;
  });
  return [
    `${wrapped(plan.sentence, '', '')}\n`,
    table(reach),
    designs.length === 0 ? '' : columns(head, rows, best),
    designs.length === 0 ? '' : `${legend.map((line) => wrapped(line, '  ', '    ')).join('\n')}\n`,
    list('Because', plan.because),
    list('What to do', plan.next),
    list('What the plan rests on', assumed),
    list('How far it holds', plan.cautions),
  ].join('');
}
