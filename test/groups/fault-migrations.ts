/** A group's database of an earlier version is opened; the program or the database is killed in the middle of a step. */
import { spawn } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import pg from 'pg';
import { chanceOf } from '../engines/chance.ts';
import { checkGroup } from './check.ts';
import { EARLIER, earlierLaboratories } from './earlier.ts';
import { layDatabase, layOriginals } from './earlier-places.ts';
import { drawStep, HOLDING, holdOnServer } from './held-steps.ts';
import { startPostgres } from './postgres-server.ts';
import { PROGRAM, ROOT } from './program.ts';

export interface MigrationTally {
  readonly victim: 'server' | 'database';
  rounds: number;
  /** Rounds in which steps had been kept before the one that was killed. */
  later: number;
  /** Photographs and marks that were in it and are there after. */
  acknowledged: number;
  readonly lost: string[];
}

const MOST_MS = 120_000;

async function connected(database: string): Promise<pg.Client> {
  const client = new pg.Client({ connectionString: database });
  // It breaks with the database, when that is what is killed.
  client.on('error', () => {});
  await client.connect();
  return client;
}

async function until(done: () => Promise<boolean> | boolean, what: string): Promise<void> {
  for (const end = Date.now() + MOST_MS; !(await done()); await new Promise((go) => setTimeout(go, 20))) {
    if (Date.now() > end) throw new Error(`in vain waited for: ${what}`);
  }
}

const WAITING = `select 1 from pg_locks where locktype = 'advisory' and objid = ${HOLDING} and not granted`;

/** Opens the database and kills the victim while the step waits; steps kept by then. */
async function killedAt(
  database: string,
  originals: string,
  step: number,
  kill: (program: { kill(): void }) => Promise<void>,
): Promise<number> {
  const holder = await connected(database);
  await holder.query(`select pg_advisory_lock(${HOLDING})`);
  const words = ['check', database, '--originals', originals];
  const child = spawn(process.execPath, [...PROGRAM, ...words], { cwd: ROOT, stdio: 'ignore' });
  const ended = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  await until(async () => {
    if (child.exitCode !== null) throw new Error(`it ended before step ${step}`);
    return (await holder.query(WAITING)).rows.length > 0;
  }, `step ${step}`);
  await kill({ kill: () => child.kill('SIGKILL') });
  await ended;
  await holder.end().catch(() => {});
  const look = await connected(database);
  // What the dead program had begun ends when the database notices that nobody is there.
  await until(
    async () =>
      (await look.query(`select 1 from pg_stat_activity where application_name = 'retentate'`)).rows
        .length === 0,
    'the end of the killed program’s connection',
  );
  const { rows } = await look.query<{ n: number }>('select count(*)::int as n from schema_step');
  await look.end();
  return rows[0]!.n;
}

export async function killedMigrations(each: number, seed: number): Promise<readonly MigrationTally[]> {
  const chance = chanceOf(seed);
  const postgres = await startPostgres();
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-migrating-'));
  const originals = path.join(folder, 'originals');
  layOriginals(originals);
  const all = earlierLaboratories().slice(0, -1);
  const tallies: MigrationTally[] = [];
  try {
    for (const victim of ['server', 'database'] as const) {
      const tally: MigrationTally = { victim, rounds: 0, later: 0, acknowledged: 0, lost: [] };
      tallies.push(tally);
      for (let round = 0; round < each; round++) {
        const there = 1 + Math.floor(chance() * all.length);
        const { name, sql } = all[there - 1]!;
        const step = drawStep(there, chance);
        const database = postgres.database(`${victim}_${round}`);
        await layDatabase(database, `${sql}\n${holdOnServer(step)}`);
        const steps = await killedAt(database, originals, step, async (program) => {
          if (victim === 'server') program.kill();
          else await postgres.killAndRestart();
        });
        if (steps !== step - 1) tally.lost.push(`${name}: killed in step ${step} it has ${steps}`);
        if (steps > there) tally.later++;
        const { photos, marks, problems } = await checkGroup({ database, folder });
        tally.rounds++;
        tally.acknowledged += photos + marks;
        if (photos !== EARLIER.photos || marks !== EARLIER.marks)
          tally.lost.push(`${name}: ${photos} photos, ${marks} marks`);
        tally.lost.push(...problems.map(({ message }) => `${name}: ${message}`));
      }
    }
    return tallies;
  } finally {
    await postgres.stop();
    fs.rmSync(folder, { recursive: true, force: true });
  }
}
