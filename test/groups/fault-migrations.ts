/** A group's database of an earlier version is opened; the program or the database is killed meanwhile. */
import { spawn } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { chanceOf } from '../engines/chance.ts';
import { checkGroup } from './check.ts';
import { EARLIER, earlierLaboratories } from './earlier.ts';
import { layDatabase, layOriginals } from './earlier-places.ts';
import { startPostgres } from './postgres-server.ts';
import { PROGRAM, ROOT } from './program.ts';

export interface MigrationTally {
  readonly victim: 'server' | 'database';
  rounds: number;
  /** Photographs and marks that were in it and are there after. */
  acknowledged: number;
  readonly lost: string[];
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
      const tally: MigrationTally = { victim, rounds: 0, acknowledged: 0, lost: [] };
      tallies.push(tally);
      for (let round = 0; round < each; round++) {
        const { name, sql } = all[Math.floor(chance() * all.length)]!;
        const database = postgres.database(`${victim}_${round}`);
        await layDatabase(database, sql);
        const words = ['check', database, '--originals', originals];
        const child = spawn(process.execPath, [...PROGRAM, ...words], { cwd: ROOT, stdio: 'ignore' });
        const ended = new Promise<void>((resolve) => child.once('exit', () => resolve()));
        await Promise.race([ended, new Promise((resume) => setTimeout(resume, 200 + chance() * 1200))]);
        if (victim === 'server') child.kill('SIGKILL');
        else await postgres.killAndRestart();
        await ended;
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
