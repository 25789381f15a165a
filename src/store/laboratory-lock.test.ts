import { type ChildProcess, spawn } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { holderOf, takeLock } from './laboratory-lock.ts';

const NOW = '2026-01-05T09:00:00.000Z';

/** Another process that takes the lock and keeps it until it is killed. */
function holder(folder: string): Promise<ChildProcess> {
  const script = `
    const { takeLock } = await import(${JSON.stringify(new URL('./laboratory-lock.ts', import.meta.url).href)});
    const lock = await takeLock(${JSON.stringify(folder)}, ${JSON.stringify(NOW)});
    process.stdout.write(lock.ok ? 'held' : lock.refusal.why);
    setInterval(() => {}, 1000);`;
  const child = spawn(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', script], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  return new Promise((resolve, reject) => {
    child.stdout!.once('data', (said) =>
      String(said) === 'held' ? resolve(child) : reject(new Error(String(said))),
    );
    child.once('exit', (code) => reject(new Error(`ended with ${code}`)));
  });
}

describe('the lock of a laboratory folder', () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-lock-'));
  const file = path.join(folder, 'laboratory.lock');
  afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));

  it('is given once, says who has it, and can be taken again after release', async () => {
    const first = await takeLock(folder, NOW);
    if (!first.ok) throw new Error(first.refusal.message);
    first.value.announce('http://127.0.0.1:4000/');
    const second = await takeLock(folder, NOW);
    expect(second).toMatchObject({ ok: false, refusal: { why: 'in-use' } });
    const message = second.ok ? '' : second.refusal.message;
    expect(message).toContain(`process ${process.pid}`);
    expect(message).toContain('http://127.0.0.1:4000/');
    expect(await holderOf(folder)).toMatchObject({ pid: process.pid, address: 'http://127.0.0.1:4000/' });
    await first.value.release();
    expect(await holderOf(folder)).toBeNull();
    const third = await takeLock(folder, NOW);
    expect(third.ok).toBe(true);
    if (third.ok) await third.value.release();
    expect(fs.existsSync(file)).toBe(false);
  });

  it('knows the folder by whatever path leads to it', async () => {
    const link = `${folder}-link`;
    fs.symlinkSync(folder, link);
    const first = await takeLock(folder, NOW);
    expect((await takeLock(link, NOW)).ok).toBe(false);
    if (first.ok) await first.value.release();
    fs.unlinkSync(link);
  });

  it('is free as soon as its process is killed', async () => {
    const child = await holder(folder);
    const refused = await takeLock(folder, NOW);
    expect(refused.ok ? '' : refused.refusal.message).toContain(`process ${child.pid}`);
    const ended = new Promise((resolve) => child.once('exit', resolve));
    child.kill('SIGKILL');
    await ended;
    const taken = await takeLock(folder, NOW);
    expect(taken.ok).toBe(true);
    if (taken.ok) await taken.value.release();
  }, 60_000);

  it('respects a holder on another machine while its heart beats, and no longer', async () => {
    const elsewhere = { pid: 1, host: 'another machine', since: NOW, address: null };
    fs.writeFileSync(file, JSON.stringify(elsewhere));
    const refused = await takeLock(folder, NOW);
    expect(refused.ok ? '' : refused.refusal.message).toContain('another machine');
    const longAgo = new Date(Date.now() - 120_000);
    fs.utimesSync(file, longAgo, longAgo);
    const taken = await takeLock(folder, NOW);
    expect(taken.ok).toBe(true);
    if (taken.ok) await taken.value.release();
  });
});
