/** Runs the load and writes docs/load.md, and its figures as docs/load.json for whoever reckons with them. */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { type Group, type Person, startGroup } from './group.ts';
import { type MarkLoad, markLoad } from './load-marks.ts';
import { type WholeQueue, wholeQueue } from './load-queue.ts';
import { type Account, oneBesideTwo, type Ratio, type Way } from './load-ratio.ts';

const print = (line: string) => process.stdout.write(`${line}\n`);

export interface LoadWish {
  readonly parts: readonly LoadPart[];
  readonly marks: number;
  readonly photos: number;
  /** Pairs of blocks for one worker beside two. */
  readonly pairs: number;
}

export const LOAD_PARTS = ['marks', 'ratio', 'queue'] as const;
export type LoadPart = (typeof LOAD_PARTS)[number];

/** When it was measured, and how many processes other work kept waiting or running before (load average of a minute). */
type Dated<T> = T & { readonly on: string; readonly busy: number };

/** docs/load.json */
export interface LoadFigures {
  readonly marks: Dated<MarkLoad>;
  readonly ratio: Dated<Ratio>;
  readonly queue: Dated<WholeQueue>;
}

type Measured = MarkLoad | Ratio | WholeQueue;

const PEOPLE = 60;
const RATIO_GOAL = 1.9;
const FIGURES = 'docs/load.json';

/**
 * Measures the parts, each written down as soon as it is over. True when nothing was lost, doubled, refused or left
 * unsearched; the speeds are told and not judged, for they are the machine's.
 */
export async function writeLoad(wish: LoadWish): Promise<boolean> {
  let good = true;
  for (const part of wish.parts) {
    const busy = loadavg()[0]!;
    const measured = await onItsOwn<Measured>((group, owner) => MEASURE[part](group, owner, wish));
    print(`${part}: ${JSON.stringify(measured)}`);
    if ('lost' in measured) good &&= measured.lost + measured.doubled + measured.refused === 0;
    if ('unsearched' in measured) good &&= measured.unsearched + measured.doubled === 0;
    const on = new Date().toISOString().slice(0, 10);
    const before = existsSync(FIGURES) ? JSON.parse(readFileSync(FIGURES, 'utf8')) : {};
    const figures = { ...before, [part]: { on, busy, ...measured } };
    writeFileSync(FIGURES, `${JSON.stringify(figures, null, 2)}\n`);
    if (LOAD_PARTS.every((one) => one in figures)) writeFileSync('docs/load.md', page(figures));
  }
  return good;
}

const MEASURE: Readonly<
  Record<LoadPart, (group: Group, owner: Person, wish: LoadWish) => Promise<Measured>>
> = {
  marks: (group: Group, owner: Person, { marks }: LoadWish) =>
    markLoad(group, owner, { people: PEOPLE, marks }),
  ratio: (group: Group, owner: Person, { pairs }: LoadWish) => oneBesideTwo(group, owner, pairs),
  queue: (group: Group, owner: Person, { photos }: LoadWish) => wholeQueue(group, owner, photos),
};

/** Each on a group of its own, so that none meets the tables that another filled. */
async function onItsOwn<T>(load: (group: Group, owner: Person) => Promise<T>): Promise<T> {
  const group = await startGroup({ direct: true });
  try {
    return await load(group, await group.person('Olga Owner', group.firstCode));
  } finally {
    await group.close();
  }
}

const page = ({ marks, queue, ratio }: LoadFigures): string => {
  const hundredths = (n: number): string => n.toFixed(2);
  const rows = [
    ['people marking at once, each without a pause', '60', String(marks.people)],
    ['marks acknowledged', '20,000', marks.marks.toLocaleString('en-GB')],
    ['lost · doubled · refused', '0 · 0 · 0', `${marks.lost} · ${marks.doubled} · ${marks.refused}`],
    [
      'a mark, median and 95th percentile',
      'told',
      `${marks.p50Ms.toFixed(0)} ms, ${marks.p95Ms.toFixed(0)} ms`,
    ],
    ['marks a second', 'told', marks.perSecond.toFixed(0)],
    ['photographs queued, then worked off by two workers', '5,000', queue.photos.toLocaleString('en-GB')],
    [
      'of these unsearched · searched twice · tried again',
      '0 · 0 · told',
      `${queue.unsearched} · ${queue.doubled} · ${queue.again}`,
    ],
    [
      'processor for one of them, by the workers’ own count',
      'about 0.1 s',
      `${hundredths(queue.processorS)} s`,
    ],
    ['taken in before, a second', 'told', queue.bringPerSecond.toFixed(1)],
    ['searched a second, over all', 'told', queue.perSecond.toFixed(1)],
    [
      'searched a second, in each fifth of the queue',
      'alike (linear)',
      queue.fifths.map((rate) => rate.toFixed(1)).join(' · '),
    ],
  ];
  return [
    '# Load on a group’s server',
    '',
    `Written by \`npm run test:groups -- --load\` on ${cpus().length} cores (${cpus()[0]?.model ?? 'unknown'}), Node ${process.version}.`,
    'Server, database, workers and the people who ask share this one machine, so a worker beside them never has a core alone.',
    'Before each part began, other work kept so many processes waiting or running (load average of a minute); the figures hold with that:',
    `${[...Object.entries({ marks, ratio, queue })].map(([part, { on, busy }]) => `${part} ${busy.toFixed(1)} (${on})`).join(', ')}.`,
    '',
    'Photographs are drawn filters with printed squares and pieces on them, twelve to a filter, small enough that thousands are through',
    'within minutes; one worker beside two has photographs of a usual size. A worker asks for the next photograph as soon as one is over,',
    'and twice a second when there was none. Each worker may use one core (`--cores 1`): one that may use both has both for itself,',
    'and a second could add nothing.',
    '',
    'People mark without a pause between an answer and the next mark, which no person does; a mark’s time is mostly waiting for the marks',
    'of the others. The figures are also in `load.json`.',
    '',
    '| | goal | measured |',
    '|---|---|---|',
    ...rows.map((row) => `| ${row.join(' | ')} |`),
    '',
    ...beside(ratio),
  ].join('\n');
};

const SHARES: readonly (readonly [keyof Account, string])[] = [
  ['search', 'search, the workers’ own thread for it'],
  ['first', 'the workers’ first threads: queue, records, originals'],
  ['others', 'the workers’ other threads: decoder, memory'],
  ['database', 'PostgreSQL'],
  ['server', 'the server'],
  ['driver', 'who brings the photographs and asks how far they are'],
];

/** One worker beside two: the rates, and where the processor went. */
function beside(ratio: Ratio): string[] {
  const ways: [string, Way][] = [['free', ratio.free]];
  if (ratio.pinned) ways.push(['pinned', ratio.pinned]);
  const sum = (account: Account): number => SHARES.reduce((all, [share]) => all + account[share], 0);
  const row = (what: string, of: (way: Way) => string) =>
    `| ${[what, ...ways.map(([, way]) => of(way))].join(' | ')} |`;
  const two = (a: number, b: number, digits = 3) => `${a.toFixed(digits)} · ${b.toFixed(digits)}`;
  return [
    '## One worker beside two',
    '',
    `${ratio.photos} drawn photographs of ${ratio.megapixels.toFixed(1)} megapixels, in ${ratio.pairs} pairs of blocks each way. Blocks of one worker and of two take turns,`,
    'and whoever goes first changes; a block’s rate is taken while all its workers are at work, without warming up and without the last',
    'photographs. *Free*: processes run where the kernel puts them. *Pinned*: one worker is held to the first core',
    '(`taskset -acp 0`), of two each to a core of its own (0 and 1); database, server and driver are held nowhere. Originals lie in a folder:',
    'no bucket takes part. Where two figures stand they are one worker’s and two workers’.',
    '',
    `| | ${ways.map(([name]) => name).join(' | ')} |`,
    `|---|${ways.map(() => '---|').join('')}`,
    row('searched a second', (way) => two(way.onePerSecond, way.twoPerSecond)),
    row(
      `two workers to one, goal ${RATIO_GOAL} × (95 % by drawing the pairs anew)`,
      ({ ratio: told, low, high }) =>
        `${told.toFixed(2)} × (${low.toFixed(2)}–${high.toFixed(2)})${told < RATIO_GOAL ? ': missed' : ''}`,
    ),
    row('processor for one photograph, s', (way) => two(sum(way.one), sum(way.two))),
    ...SHARES.map(([share, what]) => row(`– ${what}`, (way) => two(way.one[share], way.two[share]))),
    row('cores that all of this keeps busy: rate × processor', (way) =>
      two(way.onePerSecond * sum(way.one), way.twoPerSecond * sum(way.two), 2),
    ),
    row('most that two cores could search a second: 2 ÷ processor; to one worker', (way) => {
      const most = 2 / sum(way.two);
      return `${most.toFixed(3)}, ${(most / way.onePerSecond).toFixed(2)} ×`;
    }),
    row('cores that programs of others kept busy meanwhile', (way) => two(...way.foreign, 2)),
    '',
    `Unsearched ${ratio.unsearched} · searched twice ${ratio.doubled} · tried again ${ratio.again}.`,
    '',
  ];
}
