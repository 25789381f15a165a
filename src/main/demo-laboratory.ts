/** The example laboratory: drawn, searched, marked by invented scorers and judged, by the same deeds that people use. */
import { existsSync, readdirSync } from 'node:fs';
import { mkdir, rename, rm } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { LABORATORY_NAME, makeExampleLaboratory } from '../../demo/laboratory/index.ts';
import { drawExamplePhotographs } from '../../demo/photographs/index.ts';
import { standing } from '../actions/index.ts';
import { claimJson } from '../api/index.ts';
import type { DemoMade, DemoPhase } from '../cli/index.ts';
import { holderOf } from '../store/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { atWork } from './surroundings.ts';

const SEED = 1;

/**
 * Made beside and moved into place at the end, so that a making that was stopped leaves nothing that looks whole; what it
 * left is cleared away by the next.
 */
export async function makeDemo(
  given: string,
  version: string,
  told: (phase: DemoPhase, done: number, of: number, name: string) => void,
): Promise<Outcome<DemoMade>> {
  const folder = resolve(given);
  if (existsSync(folder) && readdirSync(folder).length > 0) {
    return refused({
      why: 'not-empty',
      message: `${folder} is there already and not empty: open it, or choose a new folder for the example.`,
    });
  }
  const making = `${folder}.making`;
  const holder = existsSync(making) ? await holderOf(making) : null;
  if (holder) {
    return refused({
      why: 'in-use',
      message: `The example is being made in ${making} by process ${holder.pid}; wait for it.`,
    });
  }
  await rm(making, { recursive: true, force: true });
  await mkdir(dirname(folder), { recursive: true });
  const here = await atWork(making, { name: LABORATORY_NAME, invented: true });
  if (!here.ok) return here;
  const { tools, close } = here.value;
  let made: DemoMade;
  try {
    const drawn = join(making, 'drawn');
    const photographs = await drawExamplePhotographs(drawn, SEED, (n, of, name) =>
      told('drawing', n, of, name),
    );
    const { study } = await makeExampleLaboratory(tools, {
      folder: drawn,
      photographs,
      version,
      progress: (n, of, name) => told('searching', n, of, name),
    });
    const stands = await standing(tools, { study: study.id });
    if (!stands.ok) return stands;
    const first = stands.value.specimens[0]!;
    made = {
      folder,
      study: study.name,
      specimen: first.specimen.name,
      claim: claimJson(first.claim, first.judged.ok ? first.judged.value : null),
    };
  } finally {
    await close();
  }
  await rename(making, folder);
  return done(made);
}
