/** Rounds of a process that works in a laboratory folder and is killed at a moment drawn by chance. */
import { spawn } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { findOnPhoto, importPhoto } from '../../src/actions/index.ts';
import { checkOpen, openLaboratory, systemClock, systemNames } from '../../src/store/index.ts';
import { bundled } from '../engines/bundle.ts';
import { chanceOf } from '../engines/chance.ts';
import { photoBytes, pretendedWork } from '../engines/pretended.ts';
import { given, smallStudy } from '../engines/small-study.ts';
import { EARLIER, earlierLaboratories } from '../groups/earlier.ts';
import { layFolder } from '../groups/earlier-places.ts';
import { drawStep, HOLD_IN_FOLDER, stepsIn } from '../groups/held-steps.ts';

export type Working = 'import' | 'mark' | 'tap';

export interface KillTally {
  readonly rounds: number;
  /** Rounds in which the process had begun to work when it was killed. */
  readonly working: number;
  readonly acknowledged: number;
  /** What was acknowledged and was not there, and what the laboratory's own check found. */
  readonly lost: readonly string[];
}

/** Every so many rounds the kill falls while the laboratory is being opened. */
const EARLY = 6;

interface Round {
  readonly ready: boolean;
  readonly acknowledged: readonly string[];
  readonly lost: readonly string[];
  readonly trouble: string;
}

let worker: Promise<string> | null = null;
const workerFile = (): Promise<string> => {
  worker ??= bundled(fileURLToPath(new URL('./kill-worker.ts', import.meta.url)));
  return worker;
};

/**
 * Starts the worker and kills it `afterMs` after its `work`th acknowledgement, or after its start in an early round.
 * Counting acknowledgements, and not time alone, keeps the rounds worth something on a busy machine.
 */
async function killedRound(
  args: readonly string[],
  early: boolean,
  work: number,
  afterMs: number,
): Promise<Round> {
  const child = spawn(process.execPath, [await workerFile(), ...args], { stdio: ['ignore', 'pipe', 'pipe'] });
  return new Promise((resolve) => {
    let said = '';
    let trouble = '';
    let counting = false;
    const kill = () => child.kill('SIGKILL');
    if (early) setTimeout(kill, afterMs);
    child.stdout.on('data', (part) => {
      said += String(part);
      const done = said.includes('ready') && (said.match(/^(photo|found|mark|tap) /gm) ?? []).length >= work;
      if (!early && !counting && done) {
        counting = true;
        setTimeout(kill, afterMs);
      }
    });
    child.stderr.on('data', (part) => {
      trouble += String(part);
    });
    child.on('close', () => {
      // A line that the kill cut in two was not yet heard as an acknowledgement.
      const lines = said.split('\n').slice(0, -1);
      resolve({
        ready: lines.some((line) => line.startsWith('ready')),
        acknowledged: lines.filter((line) => /^(photo|found|mark|tap) /.test(line)),
        lost: lines.filter((line) => line.startsWith('lost')),
        trouble,
      });
    });
  });
}

async function makeLaboratory(folder: string): Promise<void> {
  const surroundings = { clock: systemClock, names: systemNames };
  const laboratory = given(
    await openLaboratory(folder, { ...surroundings, make: { name: 'To be killed', invented: true } }),
  );
  const { records, files } = laboratory;
  const tools = { records, files, work: pretendedWork(), ...surroundings };
  const { filters, person } = await smallStudy(tools);
  for (const [n, filter] of filters.entries()) {
    const source = { bytes: photoBytes(6, `first ${n}`) };
    const { photo } = given(
      await importPhoto(tools, { filter: filter.id, source, name: `${n}.png`, by: person.id }),
    );
    given(await findOnPhoto(tools, { photo: photo.id }));
  }
  await laboratory.close();
}

/** Each round's process first looks for all that was ever acknowledged, then works until it is killed. */
export async function killRounds(mode: Working, rounds: number, seed: number): Promise<KillTally> {
  const root = fs.mkdtempSync(path.join(os.tmpdir(), `retentate-kill-${mode}-`));
  try {
    const folder = path.join(root, 'laboratory');
    const acknowledgedFile = path.join(root, 'acknowledged');
    await makeLaboratory(folder);
    fs.writeFileSync(acknowledgedFile, '');
    const chance = chanceOf(seed);
    const lost: string[] = [];
    let [acknowledged, working] = [0, 0];
    for (let round = 0; round <= rounds; round += 1) {
      // The last one looks alone.
      const last = round === rounds;
      const early = !last && round % EARLY === EARLY - 1;
      const work = last ? 0 : 1 + Math.floor(chance() * 4);
      const afterMs = early ? 100 + chance() * 1200 : chance() * 60;
      const args = [folder, mode, acknowledgedFile, String(round)];
      const killed = await killedRound(args, early, work, last ? 0 : afterMs);
      lost.push(...killed.lost.map((line) => `round ${round}: ${line}`));
      if (!early && !killed.ready) lost.push(`round ${round}: it did not open: ${killed.trouble}`);
      if (last) break;
      working += killed.ready ? 1 : 0;
      acknowledged += killed.acknowledged.length;
      fs.appendFileSync(acknowledgedFile, killed.acknowledged.map((line) => `${line}\n`).join(''));
    }
    return { rounds, working, acknowledged, lost };
  } finally {
    fs.rmSync(root, { recursive: true, force: true });
  }
}

/** Opens it and is killed while the step waits in the middle; what went wrong, or nothing. */
async function killedInStep(folder: string, step: number, acknowledgedFile: string): Promise<string> {
  const [hold, reached] = ['hold', 'reached'].map((name) => path.join(folder, 'database', name));
  fs.writeFileSync(hold!, String(step));
  const args = [await workerFile(), folder, 'open', acknowledgedFile, '0'];
  const child = spawn(process.execPath, args, { stdio: ['ignore', 'ignore', 'pipe'] });
  let trouble = '';
  child.stderr.on('data', (part) => {
    trouble += String(part);
  });
  const closed = new Promise<void>((resolve) => child.once('close', () => resolve()));
  for (const end = Date.now() + 120_000; !fs.existsSync(reached!) && child.exitCode === null; ) {
    if (Date.now() > end) break;
    await new Promise((resume) => setTimeout(resume, 20));
  }
  child.kill('SIGKILL');
  await closed;
  const there = fs.existsSync(reached!);
  for (const file of [hold!, reached!]) fs.rmSync(file, { force: true });
  return there ? '' : `it did not come to step ${step}: ${trouble}`;
}

export interface OpeningTally extends Omit<KillTally, 'working'> {
  /** Rounds in which steps had been kept before the one that was killed. */
  readonly later: number;
}

/**
 * Each round opens a laboratory of an earlier version, is killed in the middle of a step drawn by chance, and must find it
 * whole at the next opening.
 */
export async function killedOpenings(rounds: number, seed: number): Promise<OpeningTally> {
  const root = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-kill-opening-'));
  try {
    const all = earlierLaboratories().slice(0, -1);
    const chance = chanceOf(seed);
    const lost: string[] = [];
    let [acknowledged, later] = [0, 0];
    const folder = path.join(root, 'laboratory');
    const acknowledgedFile = path.join(root, 'acknowledged');
    fs.writeFileSync(acknowledgedFile, '');
    for (let round = 0; round < rounds; round += 1) {
      const there = 1 + Math.floor(chance() * all.length);
      const { name, sql } = all[there - 1]!;
      const wrong = (what: string): void => void lost.push(`round ${round}: ${name}: ${what}`);
      const step = drawStep(there, chance);
      const ready = path.join(root, name);
      if (!fs.existsSync(ready)) {
        await layFolder(ready, `${sql}\n${HOLD_IN_FOLDER}`, path.join(root, 'empty'));
      }
      fs.cpSync(ready, folder, { recursive: true });
      const trouble = await killedInStep(folder, step, acknowledgedFile);
      if (trouble !== '') wrong(trouble);
      const steps = await stepsIn(folder);
      if (steps !== step - 1) wrong(`killed in step ${step} it has ${steps}`);
      if (steps > there) later += 1;
      const opened = await openLaboratory(folder, { clock: systemClock, names: systemNames, make: null });
      if (opened.ok) {
        const { photos, marks, problems } = await checkOpen(opened.value);
        await opened.value.close();
        acknowledged += photos + marks;
        if (photos !== EARLIER.photos || marks !== EARLIER.marks) wrong(`${photos} photos, ${marks} marks`);
        for (const { message } of problems) wrong(message);
      } else {
        wrong(opened.refusal.message);
      }
      fs.rmSync(folder, { recursive: true, force: true });
    }
    return { rounds, later, acknowledged, lost };
  } finally {
    fs.rmSync(root, { recursive: true, force: true });
  }
}
