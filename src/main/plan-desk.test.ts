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
