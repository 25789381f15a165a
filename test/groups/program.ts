/** The program as the tests start it: the built one where it is of these sources (it starts sooner), else the sources. */
import type { ChildProcess } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { sourcesHash } from '../../scripts/prepare.mjs';

export const ROOT = fileURLToPath(new URL('../..', import.meta.url));

const stamp = path.join(ROOT, 'dist/.built-from');
const built = existsSync(stamp) && readFileSync(stamp, 'utf8') === sourcesHash();

/** Words after `node`. */
export const PROGRAM: readonly string[] = built
  ? [path.join(ROOT, 'dist/src/main/retentate.js')]
  : ['--import', 'tsx', path.join(ROOT, 'src/main/retentate.ts')];

/** Waits for the end of a process. */
export const ended = (child: ChildProcess): Promise<void> =>
  new Promise((resolve) => {
    if (child.exitCode !== null || child.signalCode !== null) resolve();
    else child.once('exit', () => resolve());
  });
