import { appendFile, mkdtemp, readdir, rm, stat, truncate } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { drawn } from '../../test/journeys/broken-photos.ts';
import type { PreparedNote, RowNote } from '../science/imaging/index.ts';
import { umPerPx } from '../units/index.ts';
import { type FindingCrew, findingCrew } from './finding-crew.ts';
import { WHOLE_PIXELS } from './photo-strips.ts';
import { openNotes } from './search-notes.ts';

let folder: string;
let crew: FindingCrew | null = null;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'retentate-notes-'));
});
afterEach(() => crew?.close());
afterAll(() => rm(folder, { recursive: true, force: true }));

const PREPARED = { prepared: { floorPx: 7.5 }, lattice: null } as unknown as PreparedNote;
const row = (next: number): RowNote => ({ next, pieces: [], open: { runs: [next, 1, 2], parent: [0] } });

/** Notes of a search that was killed after these rows. */
function broken(name: string, rows: readonly RowNote[]): string {
  const path = join(folder, name);
  const notes = openNotes(path, 'key');
  notes.add(PREPARED);
  for (const one of rows) notes.add(one);
  notes.close(false);
  return path;
}
const earlierOf = (path: string, key = 'key') => {
  const notes = openNotes(path, key);
  notes.close(false);
  return notes.earlier;
};

describe('notes of a search', () => {
  it('are read again as they were written, and gone on with', () => {
    const path = broken('whole', [row(10), row(20)]);
    const notes = openNotes(path, 'key');
    expect(notes.earlier).toEqual({ prepared: PREPARED, rows: [row(10), row(20)] });
    notes.add(row(30));
    notes.close(false);
    expect(earlierOf(path)?.rows).toEqual([row(10), row(20), row(30)]);
  });

  it('leave out what was half written or comes out of turn, with all after it', async () => {
    const torn = broken('torn', [row(10), row(20)]);
    await truncate(torn, (await stat(torn)).size - 3);
    expect(earlierOf(torn)?.rows).toEqual([row(10)]);
    await appendFile(torn, 'not a record at all');
    expect(earlierOf(torn)?.rows).toEqual([row(10)]);
    // As two processes would write them.
    expect(earlierOf(broken('twice', [row(10), row(10), row(20)]))?.rows).toEqual([row(10)]);
    expect(earlierOf(broken('gap', [row(10), row(30)]))?.rows).toEqual([row(10)]);
  });

  it('do not hold for another wish, and are gone when the search is done', async () => {
    const path = broken('other', [row(10)]);
    const notes = openNotes(path, 'another key');
    expect(notes.earlier).toBeNull();
    notes.close(true);
    await expect(stat(path)).rejects.toMatchObject({ code: 'ENOENT' });
  });

  it('are done without where they cannot be written', () => {
    const notes = openNotes(folder, 'key');
    expect(notes.earlier).toBeNull();
    notes.add(PREPARED);
    notes.close(false);
  });
});

describe('a large photograph whose search was stopped', () => {
  it('is gone on with where it stood, and gives what one search gives', { timeout: 180_000 }, async () => {
    const [width, height] = [6000, 5400];
    expect(width * height).toBeGreaterThan(WHOLE_PIXELS);
    const path = join(folder, 'large.png');
    const dots = await drawn(600, 400).png().toBuffer();
    await sharp({ create: { width, height, channels: 3, background: '#d9d7cf' } })
      .composite([
        { input: dots, left: 5000, top: 700 },
        { input: dots, left: 300, top: 4700 },
      ])
      .png({ compressionLevel: 1 })
      .toFile(path);
    const wish = {
      scale: { from: 'given', scale: umPerPx(10) },
      smallest: null,
      falseFindsPerBlank: 0.5,
    } as const;
    const notes = join(folder, 'large.search');
    const order = { path, name: 'large.png', wish, workFolder: folder };
    crew = findingCrew(1);
    const stop = new AbortController();
    const stopped = await crew.search(
      { ...order, notes },
      (share) => {
        if (share > 0.6) stop.abort();
      },
      stop.signal,
    );
    expect(stopped).toMatchObject({ ok: false, refusal: { why: 'stopped' } });
    expect((await stat(notes)).size).toBeGreaterThan(1000);
    const shares: number[] = [];
    const again = await crew.search({ ...order, notes }, (share) => shares.push(share));
    const alone = await crew.search(order);
    if (!again.ok || !alone.ok) throw new Error('both searches ought to answer');
    expect(alone.value.finding.particles.length).toBeGreaterThan(10);
    expect(JSON.stringify(again.value.finding)).toBe(JSON.stringify(alone.value.finding));
    // After unpacking, the first that is told lies beyond where it was stopped.
    expect(shares.find((share) => share > 0.15)).toBeGreaterThan(0.6);
    expect(await readdir(folder)).not.toContain('large.search');
  });
});
