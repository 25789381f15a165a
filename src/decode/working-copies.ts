/** Folders of working copies bear the process and thread that made them, so that what a stopped one left can be cleared. */
import { mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { threadId } from 'node:worker_threads';

const NAME = /^retentate-strips-(\d+)-(\d+)-/;

export const workingFolder = (within: string = tmpdir()): Promise<string> =>
  mkdtemp(join(within, `retentate-strips-${process.pid}-${threadId}-`));

/** Clears what threads of this process that have ended, and processes that no longer run, have left behind. */
export async function clearLeavings(endedThread: number | null, within: string = tmpdir()): Promise<void> {
  for (const name of await readdir(within)) {
    const made = NAME.exec(name);
    if (!made) continue;
    const [pid, thread] = [Number(made[1]), Number(made[2])];
    const ended = pid === process.pid ? thread === endedThread : !runs(pid);
    if (ended) await rm(join(within, name), { recursive: true, force: true });
  }
}

function runs(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // A process of somebody else's may not be signalled, but runs.
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}
