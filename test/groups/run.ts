/**
 * `npm run test:groups`: the contract, fault and load suites of groups on a real PostgreSQL server and an S3-compatible one,
 * and the table docs/load.md. `--short` loads with a tenth.
 */
import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { startGroup } from './group.ts';
import { markLoad, queueLoad } from './load.ts';
import { postgresPrograms } from './postgres-server.ts';

const print = (line: string) => process.stdout.write(`${line}\n`);
if (postgresPrograms() === null) {
  print(
    'No PostgreSQL programs found: apt-get install postgresql, or name their folder in RETENTATE_POSTGRES_BIN.',
  );
  process.exit(1);
}
const short = process.argv.includes('--short');
const suites = spawnSync(process.execPath, ['node_modules/vitest/vitest.mjs', 'run', 'test/groups'], {
  stdio: 'inherit',
});

const group = await startGroup();
try {
  const owner = await group.person('Olga Owner', group.firstCode);
  const marks = await markLoad(group, owner, { people: 60, marks: short ? 2_000 : 20_000 });
  print(
    `${marks.people} people marked at once: ${marks.marks} marks, ${marks.lost} lost, ${marks.doubled} doubled, ${marks.refused} refused; ` +
      `median ${marks.p50Ms.toFixed(0)} ms, 95th percentile ${marks.p95Ms.toFixed(0)} ms, ${marks.perSecond.toFixed(0)} a second`,
  );
  const queue = await queueLoad(group, owner, short ? 250 : 2_500);
  const ratio = queue.twoWorkersPerSecond / queue.oneWorkerPerSecond;
  print(
    `${queue.photos} photos each: one worker ${queue.oneWorkerPerSecond.toFixed(2)} a second, two ${queue.twoWorkersPerSecond.toFixed(2)} (${ratio.toFixed(2)} ×)`,
  );
  if (!short) {
    const rows = [
      ['people marking at once', String(marks.people)],
      ['marks acknowledged', String(marks.marks)],
      ['lost · doubled · refused', `${marks.lost} · ${marks.doubled} · ${marks.refused}`],
      ['a mark, median and 95th percentile', `${marks.p50Ms.toFixed(0)} ms, ${marks.p95Ms.toFixed(0)} ms`],
      ['marks a second', marks.perSecond.toFixed(0)],
      ['photos queued, one worker then two', `${queue.photos} + ${queue.photos}`],
      ['photos a second, one worker', queue.oneWorkerPerSecond.toFixed(2)],
      ['photos a second, two workers', `${queue.twoWorkersPerSecond.toFixed(2)} (${ratio.toFixed(2)} ×)`],
    ];
    writeFileSync(
      'docs/load.md',
      [
        '# Load on a group’s server',
        '',
        `Written by \`npm run test:groups\` on ${new Date().toISOString().slice(0, 10)}: ${cpus().length} cores (${cpus()[0]?.model ?? 'unknown'}), Node ${process.version};`,
        'server, database, workers and the people who ask all on this one machine. Photos are drawn noise of 1200 × 900 pixels.',
        '',
        '| | |',
        '|---|---|',
        ...rows.map(([what, value]) => `| ${what} | ${value} |`),
        '',
      ].join('\n'),
    );
  }
  if (marks.lost + marks.doubled + marks.refused > 0) process.exitCode = 1;
} finally {
  await group.close();
}
if (suites.status !== 0) process.exitCode = 1;
