/** Runs the faults campaign and writes docs/faults.md. */
import { spawn } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { createInterface } from 'node:readline';
import { killedOpenings, killRounds, type Working } from '../journeys/kill-rounds.ts';
import { killedMigrations } from './fault-migrations.ts';
import { faultRounds } from './fault-rounds.ts';
import { troubles } from './troubles.ts';

const SEED = 20_261_201;
/** Rounds of one group before the next begins on an empty database. */
const AT_A_TIME = 4;

interface Line {
  readonly where: string;
  readonly work: string;
  readonly victim: string;
  rounds: number;
  acknowledged: number;
  unanswered: number;
  later: number;
  readonly lost: string[];
  readonly doubled: string[];
  readonly amiss: string[];
}

/** What a kind of round counts; what it does not count it has none of. */
type Tally = {
  readonly rounds: number;
  readonly acknowledged: number;
  readonly lost: readonly string[];
} & Partial<{
  readonly unanswered: number;
  /** Rounds of a migration in which steps had been kept before the kill. */
  readonly later: number;
  readonly doubled: readonly string[];
  readonly amiss: readonly string[];
}>;

interface Told {
  readonly where: string;
  readonly work: string;
  readonly victim: string;
  readonly tally: Tally;
}

/** Folders before groups, and works in the order of the job. */
const ORDER = ['import', 'detection', 'marking', 'taps', 'migration'];
const order = ({ where, work }: Line): number =>
  (where === 'folder' ? 0 : 10) + ORDER.findIndex((one) => work.startsWith(one));

const print = (line: string): void => {
  process.stdout.write(`${line}\n`);
};

/** Batches of rounds of a group, each beginning on an empty database. */
const batches = (each: number) =>
  Array.from({ length: Math.ceil(each / AT_A_TIME) }, (_, k) => k * AT_A_TIME);

const FOLDER_WORKS: ReadonlyMap<string, string> = new Map<Working, string>([
  ['import', 'import and detection'],
  ['mark', 'marking'],
  ['tap', 'taps of the bench'],
]);

/** One part of the campaign: a work in a folder, `migration`, or `group` and from which round on. Tells each tally as a line of JSON. */
export async function faultsPart(part: string, each: number): Promise<void> {
  const tell = (where: string, work: string, victim: string, tally: Tally): void =>
    print(JSON.stringify({ where, work, victim, tally }));
  const inFolder = FOLDER_WORKS.get(part);
  if (inFolder) {
    const mode = part as Working;
    tell('folder', inFolder, 'the program', await killRounds(mode, each, SEED + mode.length));
  } else if (part === 'migration') {
    tell('folder', 'migration', 'the program', await killedOpenings(each, SEED));
    for (const tally of await killedMigrations(each, SEED)) tell('group', 'migration', tally.victim, tally);
  } else {
    const from = Number(part.slice('group'.length));
    const tallies = await faultRounds(Math.min(AT_A_TIME, each - from), SEED + from);
    for (const tally of tallies) tell('group', tally.work, tally.victim, tally);
  }
}

const toldIn = (file: string): readonly Told[] =>
  readFileSync(file, 'utf8')
    .split('\n')
    .filter((line) => line.startsWith('{'))
    .map((line) => JSON.parse(line) as Told);

/** Runs a part in a process of its own and gives its tallies; throws when it ends without them. */
function partOf(part: string, each: number): Promise<readonly Told[]> {
  const words = ['--import', 'tsx', 'test/groups/run.ts', '--faults', String(each), '--part', part];
  const child = spawn(process.execPath, words, { stdio: ['ignore', 'pipe', 'inherit'] });
  const told: Told[] = [];
  createInterface({ input: child.stdout }).on('line', (line) => {
    if (line.startsWith('{')) told.push(JSON.parse(line) as Told);
    print(line);
  });
  return new Promise((resolve, reject) => {
    child.once('close', (code) =>
      code === 0 ? resolve(told) : reject(new Error(`the part ${part} ended with ${code}`)),
    );
  });
}

/**
 * True when nothing was lost, doubled or amiss. `before`: files with what parts told that ran before, one at a time perhaps;
 * then none is run.
 */
export async function writeFaults(each: number, before: readonly string[] = []): Promise<boolean> {
  const lines = new Map<string, Line>();
  const add = ({ where, work, victim, tally }: Told): void => {
    const key = `${where} ${work} ${victim}`;
    const line = lines.get(key) ?? {
      ...{ where, work, victim, rounds: 0, acknowledged: 0, unanswered: 0, later: 0 },
      ...{ lost: [], doubled: [], amiss: [] },
    };
    line.rounds += tally.rounds;
    line.acknowledged += tally.acknowledged;
    line.unanswered += tally.unanswered ?? 0;
    line.later += tally.later ?? 0;
    line.lost.push(...tally.lost);
    line.doubled.push(...(tally.doubled ?? []));
    line.amiss.push(...(tally.amiss ?? []));
    lines.set(key, line);
  };
  // Side by side, each on folders and servers of its own: kills fall at odder moments on a busy machine.
  const parts = [...FOLDER_WORKS.keys(), 'migration', ...batches(each).map((from) => `group${from}`)];
  const all =
    before.length > 0 ? before.map(toldIn) : await Promise.all(parts.map((part) => partOf(part, each)));
  all.flat().forEach(add);
  const told = await troubles(print);
  const table = [...lines.values()].sort((a, b) => order(a) - order(b));
  const wrong = table.flatMap(({ lost, doubled, amiss }) => [...lost, ...doubled, ...amiss]);
  for (const what of wrong) print(what);
  writeFileSync('docs/faults.md', page(table, told));
  return wrong.length === 0;
}

const page = (lines: readonly Line[], told: Awaited<ReturnType<typeof troubles>>): string => {
  const sum = (of: (line: Line) => number, among = lines): number => among.reduce((n, one) => n + of(one), 0);
  const rounds = sum((line) => line.rounds);
  const later = sum((line) => line.later);
  const migrated = sum(
    (line) => line.rounds,
    lines.filter(({ work }) => work === 'migration'),
  );
  return [
    '# Faults',
    '',
    `Written by \`npm run test:groups -- --faults N\` on ${new Date().toISOString().slice(0, 10)}, seed ${SEED}: ${rounds} rounds.`,
    '',
    '## Killed with signal 9',
    '',
    'In each round the work goes on in several hands, the victim is killed at a moment drawn by chance and started again, and then',
    'everything that was ever acknowledged is looked for, everything that is there is counted against what was asked for, and the',
    'laboratory’s own check (`retentate check`) goes through every original and record. *Unanswered*: the kill came before the answer;',
    'such a request may have been kept or not, but once. A migration’s acknowledged are the photographs and marks that were in it.',
    'A migration is held by its database in a step drawn by chance, its statements done and not yet kept, and is killed there: afterwards',
    `exactly the steps before it are kept. In ${later} of ${migrated} such rounds steps had been kept just before.`,
    '',
    '| laboratory | at work | killed | rounds | acknowledged | unanswered | lost | doubled | check |',
    '|---|---|---|---|---|---|---|---|---|',
    ...lines.map(
      (one) =>
        `| ${one.where} | ${one.work} | ${one.victim} | ${one.rounds} | ${one.acknowledged} | ${one.unanswered} | ${one.lost.length} | ${one.doubled.length} | ${one.amiss.length === 0 ? 'clean' : `${one.amiss.length} amiss`} |`,
    ),
    '',
    '## What else can fail, and what is said',
    '',
    'Each was brought about and its sentence taken down; afterwards what was acknowledged was there and the work went on.',
    '',
    '| laboratory | what happens | what is said | after it |',
    '|---|---|---|---|',
    ...told.map(({ where, what, said, after }) => `| ${where} | ${what} | ${said} | ${after} |`),
    '',
  ].join('\n');
};
