import { SETS, type SetName } from './drawing/sets.ts';
import * as figures from './figures.ts';
import type { JudgedPhoto } from './judge-photo.ts';

export const MEASURED = [...SETS, 'example'] as const;
export type MeasuredSet = SetName | 'example';

const percent = (v: number, digits = 1): string => `${(100 * v).toFixed(digits)} %`;
const ranged = (r: figures.Ranged | null, print: (v: number) => string): string =>
  r === null ? 'nothing to judge' : `${print(r.value)} (${print(r.lower)} to ${print(r.upper)})`;
const two = (v: number): string => v.toFixed(3);

const GOAL = { ordinary: '≥ 0.92', hard: '≥ 0.75', example: '≥ 0.90 from 100 µm' } as const;

/** The table of figures with their goals; intervals are 95 %, by Wilson for shares, by bootstrap over photographs for the rest. */
export function tableOf(judged: ReadonlyMap<MeasuredSet, readonly JudgedPhoto[]>): string {
  const rows: [string, string, string][] = [];
  const add = (name: string, value: string, goal = ''): void => {
    rows.push([name, value, goal]);
  };
  for (const set of ['ordinary', 'hard', 'example'] as const) {
    const photos = judged.get(set);
    if (!photos?.length) continue;
    add(
      `F1, ${set} set (${photos.length} photographs)`,
      ranged(figures.bootstrap(photos, figures.f1), two),
      GOAL[set],
    );
    add('  recall', ranged(figures.recall(photos), two));
    add('  precision', ranged(figures.precision(photos), two));
    add(
      '  recall on printed lines',
      ranged(
        figures.shareFound(photos, (p) => p.on_line),
        two,
      ),
      '≥ 0.85',
    );
    add(
      '  recall in clusters',
      ranged(
        figures.shareFound(photos, (p) => p.cluster !== null),
        two,
      ),
      '≥ 0.75',
    );
    for (const shape of ['fragment', 'fibre', 'film', 'bead'] as const) {
      add(
        `  recall of ${shape}s`,
        ranged(
          figures.shareFound(photos, (p) => p.shape === shape),
          two,
        ),
      );
    }
    for (const [low, high] of [
      [0, 50],
      [50, 100],
      [100, 1e9],
    ] as const) {
      const name = high > 1e6 ? `from ${low}` : `${low} to ${high}`;
      add(
        `  recall of ${name} µm`,
        ranged(
          figures.shareFound(photos, (p) => p.feret_max_um >= low && p.feret_max_um < high),
          two,
        ),
      );
    }
    add(
      '  counting error in total',
      ranged(figures.bootstrap(photos, figures.countErrorInTotal), percent),
      '≤ ±3 %',
    );
    add(
      '  counting error, median photograph',
      ranged(figures.bootstrap(photos, figures.countErrorMedian), percent),
      '≤ 5 %',
    );
    for (const measure of ['feret', 'area', 'fibre length'] as const) {
      const spread = figures.bootstrap(photos, (ps) => orNull(figures.errorsOf(ps, measure).map(Math.abs)));
      const bias = figures.bootstrap(photos, (ps) => orNull(figures.errorsOf(ps, measure)));
      add(
        `  ${measure}: median error`,
        ranged(spread, percent),
        measure === 'feret' ? '≤ 3 %' : measure === 'area' ? '≤ 8 %' : '',
      );
      add(`  ${measure}: bias (median)`, ranged(bias, percent), measure === 'feret' ? '≤ ±1 %' : '');
    }
    const floors = photos.map((p) => p.floorUm);
    add('  stated floor, µm', `${Math.min(...floors).toFixed(0)} to ${Math.max(...floors).toFixed(0)}`);
    const kinds = [...figures.falseFindsByKind(photos)].map(([k, n]) => `${n} ${k}`).join(', ');
    add('  false finds', kinds || 'none');
    const { classes, gap } = figures.calibration(photos);
    add(
      '  certainty said → real',
      classes.map((c) => `${c.said.toFixed(2)} → ${c.real.toFixed(2)} (${c.n})`).join(', ') || 'no finds',
    );
    add('  certainty, mean gap', gap === null ? 'no finds' : two(gap));
  }
  const blank = judged.get('blank');
  if (blank?.length) {
    const counts = blank.map((p) => p.falseFinds.length);
    const kinds = [...figures.falseFindsByKind(blank)].map(([k, n]) => `${n} ${k}`).join(', ');
    const mean = counts.reduce((s, n) => s + n, 0) / counts.length;
    add(
      `false finds per empty photograph (${counts.length})`,
      `${mean.toFixed(2)} (each: ${counts.join(', ')}) ${kinds}`,
      '≤ 1',
    );
  }
  scaleRows([...judged.values()].flat(), add);
  const widths = [0, 1].map((c) => Math.max(...rows.map((r) => r[c]!.length)));
  return rows
    .map(([a, b, c]) => `${a.padEnd(widths[0]!)}  ${b.padEnd(widths[1]!)}  ${c}`.trimEnd())
    .join('\n');
}

const orNull = (values: number[]): number | null => (values.length ? figures.median(values) : null);

/** All photographs that have a print count for the scale, whatever their set; a scale where nothing is printed is a wrong answer. */
function scaleRows(
  photos: readonly JudgedPhoto[],
  add: (name: string, value: string, goal?: string) => void,
): void {
  const printed = photos.filter((p) => p.gridPrinted);
  const errors = printed.map((p) => p.scaleError).filter((e) => e !== null);
  const sizes = errors.map(Math.abs);
  if (sizes.length) {
    add(`scale error, median (${sizes.length} photographs)`, percent(figures.median(sizes), 3), '≤ 0.1 %');
    add('scale error, worst', percent(Math.max(...sizes), 3), '≤ 0.4 %');
  }
  const wrong =
    sizes.filter((e) => e > 0.02).length + photos.filter((p) => !p.gridPrinted && p.scaleFound).length;
  add('scale: wrong answers (over 2 % off, or none printed)', `${wrong} of ${photos.length}`, '0');
  add(
    'scale: abstained though printed',
    `${printed.filter((p) => !p.scaleFound).length} of ${printed.length}`,
  );
  const bare = photos.filter((p) => !p.gridPrinted);
  add(
    'scale: abstained where nothing is printed',
    `${bare.filter((p) => !p.scaleFound).length} of ${bare.length}`,
    'all',
  );
}
