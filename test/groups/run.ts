/**
 * `npm run test:groups`: the contract, fault and load suites of groups on a real PostgreSQL server and an S3-compatible one,
 * then the tables docs/load.md and docs/faults.md.
 *   --short        a tenth of the load
 *   --load         the load alone
 *   --faults N     the faults alone, N rounds of each work with each victim
 */
import { spawnSync } from 'node:child_process';
import { writeFaults } from './faults-table.ts';
import { writeLoad } from './load-table.ts';
import { postgresPrograms } from './postgres-server.ts';

const words = process.argv.slice(2);
const has = (word: string) => words.includes(word);
const faults = has('--faults') ? Number(words[words.indexOf('--faults') + 1]) : 20;

if (postgresPrograms() === null) {
  process.stdout.write(
    'No PostgreSQL programs found: apt-get install postgresql, or name their folder in RETENTATE_POSTGRES_BIN.\n',
  );
  process.exit(1);
}
if (!Number.isInteger(faults) || faults < 1) {
  process.stdout.write('--faults: a whole number of rounds, 1 or more, is needed.\n');
  process.exit(2);
}
const all = !has('--load') && !has('--faults');
if (all) {
  const suites = spawnSync(process.execPath, ['node_modules/vitest/vitest.mjs', 'run', 'test/groups'], {
    stdio: 'inherit',
  });
  if (suites.status !== 0) process.exitCode = 1;
}
if ((all || has('--load')) && !(await writeLoad(has('--short')))) process.exitCode = 1;
if ((all || has('--faults')) && !(await writeFaults(faults))) process.exitCode = 1;
