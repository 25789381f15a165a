import { mkdirSync, writeFileSync } from 'node:fs';
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
 * npm run calibrate [-- --small] [-- --half] [-- --factor 2]: draws virtual studies over the grid, prints the outcome and, for the
 * whole grid, writes docs/calibration.md. Exit status 1 when a goal is missed by more than chance.
 */
const small = process.argv.includes('--small');
const at = process.argv.indexOf('--factor');
const factor = at > 0 ? Number(process.argv[at + 1]) : small ? 0.4 : 1;

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
  const answers: (CellAnswer | undefined)[] = cells.map(() => undefined);
  let next = 0;
  let done = 0;
  const crew = Math.min(availableParallelism(), cells.length);
  await Promise.all(
    Array.from(
      { length: crew },
      () =>
        new Promise<void>((resolve, reject) => {
          const worker = startWorker();
          let mine = -1;
          const give = (): void => {
            mine = next++;
            const cell = cells[mine];
            if (cell) worker.postMessage(cell);
            else void worker.terminate().then(() => resolve());
          };
          worker.on('message', (answer: CellAnswer) => {
            answers[mine] = answer;
            done++;
            if (done % 25 === 0 || done > cells.length - 12)
              process.stderr.write(`${done} of ${cells.length} cells\n`);
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
const started = performance.now();
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
    `${page(answers, new Date().toISOString().slice(0, 10))}\n${[...decisions, ...shares].join('\n')}\n`,
  );
}
process.exitCode = summary.missed.length > 0 ? 1 : 0;
