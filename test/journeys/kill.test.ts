/** Nothing acknowledged is lost when the process is killed at any moment, and the laboratory opens every time. */
import { spawn } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findOnPhoto, importPhoto } from '../../src/actions/index.ts';
import { openLaboratory, systemClock, systemNames } from '../../src/store/index.ts';
import { photoBytes, pretendedWork } from '../engines/pretended.ts';
import { given, smallStudy } from '../engines/small-study.ts';

const ROUNDS = 30;
const SEED = 20_260_305;
/** Every so many rounds the kill falls while the laboratory is being opened. */
const EARLY = 6;

/** mulberry32: a known small generator, so that a failing round can be run again from its seed. */
function chanceOf(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

interface Round {
  readonly ready: boolean;
  readonly acknowledged: readonly string[];
  readonly lost: readonly string[];
  readonly trouble: string;
}

const WORKER = fileURLToPath(new URL('./kill-worker.ts', import.meta.url));

/**
 * Starts the worker and kills it `afterMs` after its `work`th acknowledgement, or after its start in an early round.
 * Counting acknowledgements, and not time alone, keeps the rounds worth something on a busy machine.
 */
function killedRound(args: readonly string[], early: boolean, work: number, afterMs: number): Promise<Round> {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, ['--import', 'tsx', WORKER, ...args], {
      stdio: ['ignore', 'pipe', 'pipe'],
    });
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

describe.each(['import', 'mark', 'tap'])('a process killed during %s', (mode) => {
  const root = fs.mkdtempSync(path.join(os.tmpdir(), `retentate-kill-${mode}-`));
  const folder = path.join(root, 'laboratory');
  const acknowledgedFile = path.join(root, 'acknowledged');

  beforeAll(async () => {
    const laboratory = given(
      await openLaboratory(folder, {
        clock: systemClock,
        names: systemNames,
        make: { name: 'To be killed', invented: true },
      }),
    );
    const { records, files } = laboratory;
    const tools = { records, files, work: pretendedWork(), clock: systemClock, names: systemNames };
    const { filters, person } = await smallStudy(tools);
    for (const [n, filter] of filters.entries()) {
      const source = { bytes: photoBytes(6, `first ${n}`) };
      const { photo } = given(
        await importPhoto(tools, { filter: filter.id, source, name: `${n}.png`, by: person.id }),
      );
      given(await findOnPhoto(tools, { photo: photo.id }));
    }
    await laboratory.close();
    fs.writeFileSync(acknowledgedFile, '');
  });
  afterAll(() => fs.rmSync(root, { recursive: true, force: true }));

  it(`loses nothing that was acknowledged, ${ROUNDS} times (seed ${SEED})`, async () => {
    const chance = chanceOf(SEED + mode.length);
    let acknowledged = 0;
    let ready = 0;
    for (let round = 0; round < ROUNDS; round += 1) {
      const early = round % EARLY === EARLY - 1;
      const work = 1 + Math.floor(chance() * 4);
      const afterMs = early ? 200 + chance() * 1500 : chance() * 60;
      const killed = await killedRound([folder, mode, acknowledgedFile, String(round)], early, work, afterMs);
      expect(killed.lost, `round ${round}`).toEqual([]);
      if (!early) expect(killed.ready, `round ${round}: ${killed.trouble}`).toBe(true);
      ready += killed.ready ? 1 : 0;
      acknowledged += killed.acknowledged.length;
      fs.appendFileSync(acknowledgedFile, killed.acknowledged.map((line) => `${line}\n`).join(''));
    }
    // The rounds would prove nothing had they been killed before they did anything.
    expect(ready).toBeGreaterThanOrEqual(ROUNDS - ROUNDS / EARLY);
    expect(acknowledged).toBeGreaterThan(ROUNDS);
    const last = await killedRound([folder, mode, acknowledgedFile, 'last'], false, 0, 0);
    expect(last).toMatchObject({ ready: true, lost: [] });
    console.log(`${mode}: ${ROUNDS} kills, ${acknowledged} acknowledged, 0 lost`);
  }, 900_000);
});
