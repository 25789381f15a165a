/** Runs the load and writes docs/load.md. */
import { writeFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { startGroup } from './group.ts';
import { markLoad, queueLoad } from './load.ts';

const print = (line: string) => process.stdout.write(`${line}\n`);

/** True when nothing was lost, doubled or refused. */
export async function writeLoad(wish: { readonly marks: number; readonly photos: number }): Promise<boolean> {
  const group = await startGroup({ direct: true });
  try {
    const owner = await group.person('Olga Owner', group.firstCode);
    // What else the machine does, before anything of this is started on it.
    const busy = loadavg()[0]!;
    const queue = await queueLoad(group, owner, wish.photos / 2);
    const ratio = queue.twoWorkersPerSecond / queue.oneWorkerPerSecond;
    print(
      `${queue.photos} photos each: one worker ${queue.oneWorkerPerSecond.toFixed(2)} a second, two ${queue.twoWorkersPerSecond.toFixed(2)} (${ratio.toFixed(2)} ×)`,
    );
    const marks = await markLoad(group, owner, { people: 60, marks: wish.marks });
    print(
      `${marks.people} people marked at once: ${marks.marks} marks, ${marks.lost} lost, ${marks.doubled} doubled, ${marks.refused} refused; ` +
        `median ${marks.p50Ms.toFixed(0)} ms, 95th percentile ${marks.p95Ms.toFixed(0)} ms, ${marks.perSecond.toFixed(0)} a second`,
    );
    const rows = [
      ['people marking at once, each without a pause', String(marks.people)],
      ['marks acknowledged', String(marks.marks)],
      ['lost · doubled · refused', `${marks.lost} · ${marks.doubled} · ${marks.refused}`],
      ['a mark, median and 95th percentile', `${marks.p50Ms.toFixed(0)} ms, ${marks.p95Ms.toFixed(0)} ms`],
      ['marks a second', marks.perSecond.toFixed(0)],
      ['photos searched, by one worker and by two', `${queue.photos} + ${queue.photos}`],
      ['photos a second, one worker', queue.oneWorkerPerSecond.toFixed(2)],
      ['photos a second, two workers', `${queue.twoWorkersPerSecond.toFixed(2)} (${ratio.toFixed(2)} ×)`],
    ];
    writeFileSync('docs/load.md', page(rows, busy, queue.turns));
    return marks.lost + marks.doubled + marks.refused === 0;
  } finally {
    await group.close();
  }
}

const page = (rows: readonly (readonly string[])[], busy: number, turns: number): string =>
  [
    '# Load on a group’s server',
    '',
    `Written by \`npm run test:groups\` on ${new Date().toISOString().slice(0, 10)}: ${cpus().length} cores (${cpus()[0]?.model ?? 'unknown'}), Node ${process.version}.`,
    'Server, database, workers and the people who ask share this one machine, so a worker beside them never has a core alone.',
    `Before it began, other work kept ${busy.toFixed(1)} processes waiting or running (load average of a minute); the figures hold with that.`,
    '',
    'Photos are drawn noise of 160 × 120 pixels, so that the queue is measured and not the finder. One worker and two take turns,',
    `${turns} each, with as many photos; the ratio compares sums of times. People mark without a pause between an answer and the next`,
    'mark, which no person does; a mark’s time is mostly waiting for the marks of the others.',
    'A worker asks the queue twice a second for one photo, which bounds small ones; a photograph of 24 megapixels keeps it busy for long.',
    '',
    '| | |',
    '|---|---|',
    ...rows.map(([what, value]) => `| ${what} | ${value} |`),
    '',
  ].join('\n');
