/** Overlapping photographs of a filter: each piece counts once, whoever adds, marks, undoes or objects. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  countApart,
  countStudy,
  markByHand,
  markParticles,
  movePhoto,
  type PhotoWork,
  type Tools,
  undo,
} from '../../src/actions/index.ts';
import type { Particle } from '../../src/science/imaging/finding.ts';
import { openLaboratory } from '../../src/store/index.ts';
import type { ParticleRecord, Photo } from '../../src/study/index.ts';
import { done, um } from '../../src/units/index.ts';
import {
  countedNames,
  pretendedFinding,
  pretendedParticle,
  pretendedWork,
  tickingClock,
} from './pretended.ts';
import { given, searchedPhoto, smallStudy } from './small-study.ts';

/** Sixty pieces strewn over 4000 × 1600 px of a filter, as a linear congruence has it. */
const SCENE = (() => {
  let state = 7;
  const next = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  return Array.from({ length: 60 }, () => ({ x: 4000 * next(), y: 1600 * next(), size: 20 + 40 * next() }));
})();

/** A photograph is “view X”: 2000 × 1600 px of the scene from x = X on; “view X without N” misses the Nth piece in view. */
const seen = (text: string): Particle[] => {
  const [, from, without] = /^view (\d+)(?: without (\d+))?/.exec(text)!.map(Number);
  return SCENE.filter(({ x, size }) => x - size > from! && x + size < from! + 2000)
    .filter((_, at) => at + 1 !== without)
    .map(({ x, y, size }) =>
      pretendedParticle(0, {
        centroidPx: [x - from!, y],
        outlinePx: [
          [x - from!, y],
          [x - from! + size, y],
          [x - from!, y + size],
        ],
        areaPx2: size ** 2,
        feretMaxPx: size,
        feretMaxUm: um(size * 5),
      }),
    );
};

const work: PhotoWork = {
  ...pretendedWork(),
  inspect: async () => done({ format: 'png', widthPx: 2000, heightPx: 1600, orientation: 1 }),
  find: async (photo, wish) => done(pretendedFinding(wish, seen(fs.readFileSync(photo.path, 'utf8')))),
};

describe('overlapping photographs of a filter', () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-joining-'));
  let tools: Tools;
  let close: () => Promise<void>;
  let made: Awaited<ReturnType<typeof smallStudy>>;
  const photos: Photo[] = [];

  const bringTo = (filter: number, text: string, salt = '') =>
    searchedPhoto(tools, {
      filter: made.filters[filter]!,
      name: `${text}.png`,
      bytes: new TextEncoder().encode(`${text}\n${salt}`),
      by: made.person,
    });
  const bring = async (text: string) => {
    photos.push(await bringTo(0, text));
  };
  const counted = async () => {
    const { runs, filterCounts } = await tools.records.look((look) => countStudy(look, made.study));
    return {
      run: runs.find((one) => one.run.name === 'S1')!,
      filter: filterCounts.get(made.filters[0]!.id)!,
    };
  };
  const on = (photo: Photo): Promise<readonly ParticleRecord[]> =>
    tools.records.look(async (look) => look.particles.ofFinding((await look.findings.newest(photo.id))!.id));
  const views = (...from: readonly number[]) =>
    SCENE.filter(({ x, size }) => from.some((f) => x - size > f && x + size < f + 2000)).length;

  beforeAll(async () => {
    const clock = tickingClock();
    const names = countedNames();
    const laboratory = given(
      await openLaboratory(folder, { clock, names, make: { name: 'Overlaps', invented: true } }),
    );
    tools = { records: laboratory.records, files: laboratory.files, work, clock, names };
    close = laboratory.close;
    made = await smallStudy(tools);
  });
  afterAll(async () => {
    await close();
    fs.rmSync(folder, { recursive: true, force: true });
  });

  it('count a piece that two of them show once, and their shared area once', async () => {
    await bring('view 0');
    expect((await counted()).run.count).toBe(views(0));
    await bring('view 1200');
    const { run, filter } = await counted();
    expect(views(0, 1200)).toBeLessThan(seen('view 0').length + seen('view 1200').length);
    expect(run.count).toBe(views(0, 1200));
    expect(filter.again).toBe(seen('view 0').length + seen('view 1200').length - views(0, 1200));
    // 3200 × 1600 px of 5 µm, nine tenths of it searched.
    expect(filter.searchedMm2).toBeCloseTo(0.9 * 3200 * 1600 * 25e-6, 1);
  });

  it('join what comes later', async () => {
    await bring('view 2000');
    expect((await counted()).run.count).toBe(views(0, 1200, 2000));
  });

  it('follow a decision on the sighting that counts, and its undoing', async () => {
    const before = (await counted()).run.count!;
    const again = (await on(photos[1]!)).find((particle) => particle.countsOn !== null)!;
    const first = (await on(photos[0]!)).find((particle) => particle.id === again.countsOn)!;
    const drop = (particle: ParticleRecord) =>
      markParticles(tools, {
        photo: particle.photo,
        particles: [particle.id],
        decision: { kind: 'drop' },
        by: made.person.id,
      });
    given(await drop(again));
    expect((await counted()).run.count).toBe(before);
    given(await drop(first));
    expect((await counted()).run.count).toBe(before - 1);
    given(await undo(tools, { study: made.study.id, by: made.person.id }));
    given(await undo(tools, { study: made.study.id, by: made.person.id }));
    expect((await counted()).run.count).toBe(before);
  });

  it('keep a decision that was taken before the overlapping photograph came', async () => {
    const photo = await bringTo(2, 'view 0', 'third filter');
    const particles = (await on(photo)).map((particle) => particle.id);
    given(
      await markParticles(tools, {
        photo: photo.id,
        particles,
        decision: { kind: 'drop' },
        by: made.person.id,
      }),
    );
    await bringTo(2, 'view 100', 'third filter');
    const { runs } = await tools.records.look((look) => countStudy(look, made.study));
    const run = runs.find((one) => one.run.name === 'C1')!;
    expect([run.dropped, run.unmarked]).toEqual([views(0), views(0, 100) - views(0)]);
  });

  it('tell anew which counts when a hand draws a piece where the program found none, and takes it back', async () => {
    // What the first photograph shows of the piece is replaced by what a hand drew there.
    const before = (await counted()).run.count!;
    const again = (await on(photos[1]!)).find((particle) => particle.countsOn !== null)!;
    const first = (await on(photos[0]!)).find((particle) => particle.id === again.countsOn)!;
    const [x, y] = first.centroidPx;
    const r = first.feretMaxPx / 2.6;
    const marked = given(
      await markByHand(tools, {
        photo: first.photo,
        by: made.person.id,
        hand: {
          deed: 'redraw',
          particle: first.id,
          outline: [
            [x - r, y - r],
            [x + r, y - r],
            [x + r, y + r],
            [x - r, y + r],
          ],
        },
      }),
    );
    const drawn = marked.particles.find((particle) => particle.drawnBy !== null)!;
    expect((await counted()).run.count).toBe(before);
    const pair = [drawn.id, drawn.countsOn];
    const other = (await on(photos[1]!)).find((particle) => particle.id === again.id)!;
    expect(pair.includes(other.countsOn) || drawn.countsOn === other.id).toBe(true);
    given(await undo(tools, { study: made.study.id, by: made.person.id }));
    expect((await counted()).run.count).toBe(before);
  });

  it('are each counted for themselves when somebody wants so, and once again when not', async () => {
    const wish = { filter: made.filters[0]!.id, by: made.person.id };
    const before = (await counted()).run.count!;
    const apart = given(await countApart(tools, { ...wish, apart: true }));
    expect(apart).toMatchObject({ apart: true, by: made.person.id });
    const all = ['view 0', 'view 1200', 'view 2000'].reduce((sum, text) => sum + seen(text).length, 0);
    expect((await counted()).run.count).toBe(all);
    // What comes while they are apart does not join them behind that person's back.
    await bring('view 600');
    expect((await counted()).run.count).toBe(all + seen('view 600').length);
    given(await countApart(tools, { ...wish, apart: false }));
    expect((await counted()).run.count).toBe(views(0, 600, 1200, 2000));
    expect(views(0, 600, 1200, 2000)).toBe(before);
  });

  it('count what only one of them shows, though the other looks there too', async () => {
    for (const text of ['view 0', 'view 300 without 4']) await bringTo(1, text, 'second filter');
    const { runs } = await tools.records.look((look) => countStudy(look, made.study));
    expect(runs.find((one) => one.run.name === 'S2')!.count).toBe(views(0, 300));
  });

  it('count for themselves again when the one that they shared pieces with goes to another filter', async () => {
    const here = photos.slice(0, 4);
    for (const photo of here.slice(1)) {
      const moved = { photo: photo.id, filter: null, why: 'shows another filter', by: made.person.id };
      given(await movePhoto(tools, moved));
    }
    expect((await on(here[0]!)).some(({ countsOn }) => countsOn !== null)).toBe(false);
    expect((await counted()).run.count).toBe(views(0));
    for (const photo of here.slice(1)) {
      const back = { photo: photo.id, filter: made.filters[0]!.id, why: 'put back', by: made.person.id };
      given(await movePhoto(tools, back));
    }
    expect((await counted()).run.count).toBe(views(0, 600, 1200, 2000));
  });
});
