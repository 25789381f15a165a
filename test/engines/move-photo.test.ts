/** A photograph on the wrong filter: moved, set aside, put back; its pieces count where it lies, and nowhere else. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { countStudy, importPhoto, movePhoto, placePhoto, type Tools } from '../../src/actions/index.ts';
import { openLaboratory } from '../../src/store/index.ts';
import type { Photo } from '../../src/study/index.ts';
import { countedNames, photoBytes, pretendedWork, tickingClock } from './pretended.ts';
import { given, searchedPhoto, smallStudy } from './small-study.ts';

describe('a photograph on the wrong filter', () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-move-'));
  let tools: Tools;
  let close: () => Promise<void>;
  let made: Awaited<ReturnType<typeof smallStudy>>;
  let photo: Photo;

  const bring = (filter: number, particles: number, salt: string) =>
    searchedPhoto(tools, {
      filter: made.filters[filter]!,
      name: `${salt}.png`,
      bytes: photoBytes(particles, salt),
      by: made.person,
    });
  const counts = () =>
    tools.records.look(async (look) => {
      const { filterCounts } = await countStudy(look, made.study);
      return [0, 1].map((at) => {
        const { count, photos } = filterCounts.get(made.filters[at]!.id)!;
        return { count, photos };
      });
    });
  const move = (to: number | null, why = 'dropped on the wrong filter') =>
    movePhoto(tools, {
      photo: photo.id,
      filter: to === null ? null : made.filters[to]!.id,
      why,
      by: made.person.id,
    });

  beforeAll(async () => {
    const clock = tickingClock();
    const names = countedNames();
    const laboratory = given(
      await openLaboratory(folder, { clock, names, make: { name: 'Moves', invented: true } }),
    );
    tools = { records: laboratory.records, files: laboratory.files, work: pretendedWork(), clock, names };
    close = laboratory.close;
    made = await smallStudy(tools);
    photo = await bring(0, 5, 'wrong');
  });
  afterAll(async () => {
    await close();
    fs.rmSync(folder, { recursive: true, force: true });
  });

  it('counts where it lies after it was moved; the filter that it left was not looked at, which is not nought', async () => {
    const before = await counts();
    expect(before[0]!.photos).toBe(1);
    expect(before[0]!.count).toBeGreaterThan(0);
    expect(before[1]).toEqual({ count: null, photos: 0 });
    given(await move(1));
    expect(await counts()).toEqual([before[1], before[0]]);
    const now = await tools.records.look((look) => look.photos.get(photo.id));
    expect(now!.filter).toBe(made.filters[1]!.id);
  });

  it('counts nowhere while it is set aside, and is no longer in the way of the same file', async () => {
    given(await move(null, 'shows the dish'));
    expect((await counts()).map(({ count }) => count)).toEqual([null, null]);
    const lines = await tools.records.look((look) => look.photos.linesOfStudy(made.study.id));
    expect(lines.map(({ id }) => id)).not.toContain(photo.id);
    // The original stays, and still says where it was.
    const again = await importPhoto(tools, {
      filter: made.filters[1]!.id,
      source: { bytes: photoBytes(5, 'wrong') },
      name: 'again.png',
      by: made.person.id,
    });
    expect(again).toMatchObject({ ok: false, refusal: { why: 'on-another-filter' } });
  });

  it('comes back, and every step stays on record with who and why', async () => {
    given(await move(0, 'put back'));
    expect((await counts())[0]!.photos).toBe(1);
    const moves = await tools.records.look((look) => look.photoMoves.ofStudy(made.study.id));
    expect(moves.map(({ why, filter }) => [why, filter])).toEqual([
      ['dropped on the wrong filter', made.filters[1]!.id],
      ['shows the dish', null],
      ['put back', made.filters[0]!.id],
    ]);
    expect(moves.every(({ by }) => by === made.person.id)).toBe(true);
  });

  it('keeps the square that was said of it for its own filter, and takes none along to another', async () => {
    const places = () =>
      tools.records.look(async (look) =>
        (await look.photoPlaces.ofStudy(made.study.id)).map(({ square }) => square),
      );
    const say = async (square: readonly [number, number]) =>
      given(await placePhoto(tools, { photo: photo.id, square, by: made.person.id }));
    await say([2, 1]);
    expect(await places()).toEqual([[2, 1]]);
    given(await move(1));
    expect(await places()).toEqual([]);
    await say([0, 3]);
    expect(await places()).toEqual([[0, 3]]);
    given(await move(0, 'put back'));
    expect(await places()).toEqual([[2, 1]]);
  });

  it('needs a reason, and a filter of its own study', async () => {
    expect(await move(1, '')).toMatchObject({ ok: false });
    const other = await smallStudy(tools, 'Another');
    const elsewhere = await movePhoto(tools, {
      photo: photo.id,
      filter: other.filters[0]!.id,
      why: 'no',
      by: made.person.id,
    });
    expect(elsewhere).toMatchObject({ ok: false, refusal: { why: 'other-study' } });
  });
});
