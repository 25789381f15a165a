import { appendFileSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';
import type { CellAnswer } from './calibrate-cell.ts';
import { type Cell, calibrationCells, thinned } from './calibrate-cells.ts';
import { decisionLines } from './calibrate-decision.ts';
import { shareLines } from './calibrate-shares.ts';
import { named, page, ruleLines, summaryOf } from './calibrate-table.ts';

/**
 * npm run calibrate [-- --small] [-- --half] [-- --factor 2] [-- --keep FILE] [-- --minutes 30]: draws virtual studies over
 * the grid, prints the outcome and, for the whole grid or half of it, writes docs/calibration.md. With --keep each cell is
 * appended to the file as it is done, and a later start goes on from there; after --minutes no further cell is begun.
 * Exit status 1 when a goal is missed by more than chance.
 */
const small = process.argv.includes('--small');
const optionOf = (name: string): string | undefined => {
  const at = process.argv.indexOf(name);
  return at > 0 ? process.argv[at + 1] : undefined;
};
const factor = Number(optionOf('--factor') ?? (small ? 0.4 : 1));
const keep = optionOf('--keep');
const minutes = Number(optionOf('--minutes') ?? Infinity);
const started = performance.now();

/** The cells of an earlier start that are still the same cells. */
const kept = new Map<string, CellAnswer>();
if (keep && existsSync(keep)) {
  for (const line of readFileSync(keep, 'utf8').split('\n').filter(Boolean)) {
    const { asked, answer } = JSON.parse(line) as { asked: Cell; answer: CellAnswer };
    kept.set(JSON.stringify(asked), answer);
  }
}

/** A worker does not inherit the loader of TypeScript sources on Node 20: it registers it itself. */
function startWorker(): Worker {
  const script = new URL('./calibrate-worker.ts', import.meta.url).href;
  const loader = JSON.stringify(import.meta.resolve('tsx/esm/api'));
  return new Worker(
    `import(${loader}).then((tsx) => { tsx.register(); return import(${JSON.stringify(script)}); });`,
    { eval: true },
  );
}

async function all(cells: readonly Cell[]): Promise<CellAnswer[]> {
  const answers: (CellAnswer | undefined)[] = cells.map((cell) => kept.get(JSON.stringify(cell)));
  const left = cells.flatMap((_, i) => (answers[i] ? [] : [i]));
  let next = 0;
  let done = 0;
  const crew = Math.min(availableParallelism(), left.length);
  await Promise.all(
    Array.from(
      { length: crew },
      () =>
        new Promise<void>((resolve, reject) => {
          const worker = startWorker();
          let mine = -1;
          const give = (): void => {
            const late = performance.now() - started > 60_000 * minutes;
            mine = late ? cells.length : (left[next++] ?? cells.length);
            const cell = cells[mine];
            if (cell) worker.postMessage(cell);
            else void worker.terminate().then(() => resolve());
          };
          worker.on('message', (answer: CellAnswer) => {
            answers[mine] = answer;
            if (keep) appendFileSync(keep, `${JSON.stringify({ asked: cells[mine], answer })}\n`);
            done++;
            if (done % 25 === 0 || done > left.length - 12)
              process.stderr.write(`${done} of ${left.length} cells\n`);
            give();
          });
          worker.on('error', reject);
          worker.on('exit', (code) => {
            if (code !== 0 && mine < cells.length)
              reject(new Error(`a worker left with ${code} at cell ${mine}`));
          });
          give();
        }),
    ),
  );
  return answers.filter((a) => a !== undefined);
}

const whole = calibrationCells(small, factor);
const cells = process.argv.includes('--half') ? thinned(whole) : whole;
const answers = await all(cells);
const summary = summaryOf(answers);
const decisions = decisionLines(small ? 500 : 4000);
const shares = shareLines(small ? 300 : Math.max(300, Math.round(2000 * factor)));
const seconds = (performance.now() - started) / 1000;
console.log(ruleLines(answers).join('\n'));
console.log([...decisions, ...shares].join('\n'));
console.log(
  `${summary.studies} studies in ${summary.cells} cells, ${seconds.toFixed(0)} s; goals missed by more than chance: ${summary.missed.length}; above a goal within chance: ${summary.withinChance.length}`,
);
for (const a of [...summary.missed, ...summary.withinChance]) console.log(`  ${named(a)}`);
if (!small) {
  const file = join(dirname(fileURLToPath(import.meta.url)), '..', 'docs', 'calibration.md');
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(
    file,
    `${page(answers, new Date().toISOString().slice(0, 10), cells.length)}\n${[...decisions, ...shares].join('\n')}\n`,
  );
}
process.exitCode = summary.missed.length > 0 ? 1 : 0;
