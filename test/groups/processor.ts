/** What processes take of the processor, as the kernel counts it. */
import { readdirSync, readFileSync } from 'node:fs';

/** Seconds in a file `stat` of /proc; 0 where the process has ended. */
function secondsIn(stat: string): number {
  try {
    const [utime, stime] = readFileSync(stat, 'utf8').split(') ')[1]!.split(' ').slice(11, 13);
    // The kernel tells them in hundredths of a second, on every machine.
    return (Number(utime) + Number(stime)) / 100;
  } catch {
    return 0;
  }
}

/** Seconds of processor that a process has taken, its threads included. */
export const processorOf = (pid: number): number => secondsIn(`/proc/${pid}/stat`);

/** The same of each of its threads, by the thread's number; the first thread's is the process's. */
export function processorOfThreads(pid: number): ReadonlyMap<number, number> {
  const folder = `/proc/${pid}/task`;
  return new Map(
    readdirSync(folder).map((thread) => [Number(thread), secondsIn(`${folder}/${thread}/stat`)]),
  );
}

/** Seconds that the whole machine was at work, on all its cores together. */
export function processorOfMachine(): number {
  const [user, nice, system, , , irq, softirq] = readFileSync('/proc/stat', 'utf8')
    .split('\n')[0]!
    .trim()
    .split(/\s+/)
    .slice(1)
    .map(Number);
  return (user! + nice! + system! + irq! + softirq!) / 100;
}
