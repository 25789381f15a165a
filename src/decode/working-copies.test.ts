import { mkdir, mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { clearLeavings, workingFolder } from './working-copies.ts';

let within: string;
beforeAll(async () => {
  within = await mkdtemp(join(tmpdir(), 'retentate-leavings-'));
});
afterAll(() => rm(within, { recursive: true, force: true }));

it('clears what ended threads and processes left, and nothing else', async () => {
  const mine = await workingFolder(within);
  await mkdir(join(within, `retentate-strips-${process.pid}-987654-abc`));
  // Beyond the largest process id that systems give out.
  await mkdir(join(within, 'retentate-strips-2000000000-1-abc'));
  await mkdir(join(within, 'something else'));
  await clearLeavings(987_654, within);
  expect((await readdir(within)).map((name) => join(within, name)).sort()).toEqual(
    [mine, join(within, 'something else')].sort(),
  );
});
