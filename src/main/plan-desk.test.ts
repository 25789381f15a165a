import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { Worker } from 'node:worker_threads';
import { expect, it } from 'vitest';
import { startWorker } from '../decode/index.ts';
import { planReport } from '../study/index.ts';
import { planDesk } from './plan-desk.ts';

const WISH = {
  aim: 'above',
  specimen_runs: 6,
  controls: 6,
  background_per_run: 2,
  release_per_gram: 1,
} as const;
const here = import.meta.url;

it('answers as the plan itself does, a refusal too, and the same question once', async () => {
  const plan = planDesk();
  const first = plan(WISH);
  expect(plan({ ...WISH })).toBe(first);
  expect(await first).toEqual(planReport(WISH));
  const refusal = await plan({ ...WISH, background_per_run: -1 });
  expect(refusal).toEqual(planReport({ ...WISH, background_per_run: -1 }));
  expect(refusal.ok).toBe(false);
});

it('tells when its worker dies, and goes on with another', async () => {
  let started = 0;
  const plan = planDesk(() => {
    started += 1;
    return started === 1 ? new Worker('process.exit(1)', { eval: true }) : startWorker('plan-worker', here);
  });
  await expect(plan(WISH)).rejects.toThrow('The planning stopped.');
  expect((await plan(WISH)).ok).toBe(true);
  expect(started).toBe(2);
});

it('lets the process end that asked it', async () => {
  const desk = JSON.stringify(new URL('./plan-desk.ts', here).href);
  const script = `const { planDesk } = await import(${desk});
    const run = process.stdin.resume();
    console.log((await planDesk()(${JSON.stringify(WISH)})).ok);
    run.destroy();`;
  const child = spawn(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', script], {
    stdio: ['pipe', 'pipe', 'inherit'],
  });
  let said = '';
  child.stdout.on('data', (part) => {
    said += part;
  });
  // Ended by a signal, it would have no status.
  const [status] = await once(child, 'exit');
  expect([said.trim(), status]).toEqual(['true', 0]);
});
