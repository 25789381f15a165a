/**
 * `npm run test:groups`: the contract, fault and load suites of groups on a real PostgreSQL server and an S3-compatible one,
 * then the tables docs/load.md and docs/faults.md.
 *   --load         the load alone; --load marks, --load ratio and --load queue are its parts
 *   --marks N      so many marks, where not 20,000
 *   --photos N     so many photographs, where not 5,000
 *   --pairs N      so many pairs of blocks of one worker and two, where not 8
 *   --faults N     the faults alone, N rounds of each work with each victim
 *   --container    builds the image and runs server and worker from it, where buildah and podman are
 *   --part NAME    one part of the faults, told as lines of JSON; --told FILE makes the table of such lines
 */
import { spawnSync } from 'node:child_process';
import { tryContainer } from './container.ts';
import { faultsPart, writeFaults } from './faults-table.ts';
import { LOAD_PARTS, writeLoad } from './load-table.ts';
import { postgresPrograms } from './postgres-server.ts';

const words = process.argv.slice(2);
const has = (word: string) => words.includes(word);
const number = (word: string, otherwise: number) => {
  const given = has(word) ? Number(words[words.indexOf(word) + 1]) : otherwise;
  if (Number.isInteger(given) && given > 0) return given;
  process.stdout.write(`${word}: a whole number, 1 or more, is needed.\n`);
  process.exit(2);
};
const faults = number('--faults', 20);
const one = LOAD_PARTS.find((part) => part === words[words.indexOf('--load') + 1]);
const load = {
  parts: one ? [one] : LOAD_PARTS,
  marks: number('--marks', 20_000),
  photos: number('--photos', 5_000),
  pairs: number('--pairs', 8),
};

if (postgresPrograms() === null) {
  process.stdout.write(
    'No PostgreSQL programs found: apt-get install postgresql, or name their folder in RETENTATE_POSTGRES_BIN.\n',
  );
  process.exit(1);
}
if (has('--part')) {
  await faultsPart(words[words.indexOf('--part') + 1] ?? '', faults);
  process.exit(0);
}
const told = words.flatMap((word, at) => (word === '--told' ? [words[at + 1] ?? ''] : []));
const all = !has('--load') && !has('--faults') && !has('--container');
if (all) {
  const suites = spawnSync(process.execPath, ['node_modules/vitest/vitest.mjs', 'run', 'test/groups'], {
    stdio: 'inherit',
  });
  if (suites.status !== 0) process.exitCode = 1;
}
if ((all || has('--load')) && !(await writeLoad(load))) process.exitCode = 1;
if ((all || has('--faults')) && !(await writeFaults(faults, told))) process.exitCode = 1;
if ((all || has('--container')) && !(await tryContainer())) process.exitCode = 1;
