import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { drawn } from '../../test/journeys/broken-photos.ts';
import type { FindWish } from '../science/imaging/index.ts';
import { umPerPx } from '../units/index.ts';
import { type FindingCrew, findingCrew } from './finding-crew.ts';
import { searchPhoto } from './search-photo.ts';

const wish: FindWish = {
  scale: { from: 'given', scale: umPerPx(10) },
  smallest: null,
  falseFindsPerBlank: 0.5,
};

/** A member that dies, never answers or answers by the name it is given. */
const oddMember = (): Worker =>
  new Worker(
    `const { parentPort } = require('node:worker_threads');
     parentPort.on('message', ({ name }) => {
       if (name === 'dies') process.exit(3);
       if (name === 'throws') throw new Error('a fault');
       if (name === 'hangs') return;
       parentPort.postMessage({ share: 0.5 });
       parentPort.postMessage({ outcome: { ok: true, value: { finding: name } } });
     });`,
    { eval: true },
  );

let folder: string;
let crew: FindingCrew | null = null;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'retentate-crew-'));
});
afterEach(() => crew?.close());
afterAll(() => rm(folder, { recursive: true, force: true }));

describe('the finding crew', () => {
  it('searches a photograph in a worker and tells how far it is', async () => {
    const path = join(folder, 'dots.png');
    await writeFile(path, await drawn(800, 600).png().toBuffer());
    crew = findingCrew(1);
    const shares: number[] = [];
    const searched = await crew.search({ path, name: 'dots.png', wish }, (share) => shares.push(share));
    expect(searched).toMatchObject({
      ok: true,
      value: { widthPx: 800, heightPx: 600, finding: { method: 'classical' } },
    });
    const alone = await searchPhoto({ path, name: 'dots.png', wish }, () => {});
    if (!alone.ok || !searched.ok) throw new Error('both searches ought to answer');
    expect(searched.value.finding.particles.length).toBeGreaterThan(0);
    expect(JSON.stringify(searched.value.finding)).toBe(JSON.stringify(alone.value.finding));
    expect(shares.at(-1)).toBe(1);
    expect(shares).toEqual(shares.toSorted((a, b) => a - b));
  });

  it('gives one member after another photograph, and hears it each time', async () => {
    const path = join(folder, 'again.png');
    await writeFile(path, await drawn(300, 200).png().toBuffer());
    crew = findingCrew(1);
    const order = { path, name: 'again.png', wish };
    const all = await Promise.all([1, 2, 3].map(() => crew!.search(order)));
    expect(all.map((o) => o.ok)).toEqual([true, true, true]);
    expect((await crew.search(order)).ok).toBe(true);
  });

  it('loses one photograph to a member that dies, and goes on', async () => {
    crew = findingCrew(2, oddMember);
    const names = ['a', 'dies', 'b', 'throws', 'c'];
    const all = await Promise.all(names.map((name) => crew!.search({ path: name, name, wish })));
    expect(all.map((o) => (o.ok ? o.value.finding : o.refusal.why))).toEqual([
      'a',
      'finder-failed',
      'b',
      'finder-failed',
      'c',
    ]);
    expect(all[1]).toMatchObject({ refusal: { message: expect.stringContaining('“dies”') } });
  });

  it('stops one at work and one that waits', async () => {
    crew = findingCrew(1, oddMember);
    const stop = new AbortController();
    const hangs = crew.search({ path: 'hangs', name: 'hangs', wish }, undefined, stop.signal);
    const waits = crew.search({ path: 'waits', name: 'waits', wish }, undefined, stop.signal);
    const after = crew.search({ path: 'after', name: 'after', wish });
    stop.abort();
    expect(await hangs).toMatchObject({ refusal: { why: 'stopped' } });
    expect(await waits).toMatchObject({ refusal: { why: 'stopped' } });
    expect(await after).toMatchObject({ ok: true });
  });

  it('answers everything when it is closed', async () => {
    crew = findingCrew(1, oddMember);
    const open = ['hangs', 'waits'].map((name) => crew!.search({ path: name, name, wish }));
    await crew.close();
    for (const outcome of await Promise.all(open))
      expect(outcome).toMatchObject({ refusal: { why: 'stopped' } });
    expect(await crew.search({ path: 'late', name: 'late', wish })).toMatchObject({
      refusal: { why: 'stopped' },
    });
  });

  it('needs at least one member', () => {
    expect(() => findingCrew(0)).toThrow(RangeError);
  });
});
