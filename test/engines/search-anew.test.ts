/** A photograph searched anew, by other settings or a newer method: decisions go over to the same pieces. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  addPerson,
  answerBenchTest,
  countStudy,
  findOnPhoto,
  markByHand,
  markParticles,
  type PhotoWork,
  setSearch,
  type Tools,
  toSearchAnew,
  undo,
} from '../../src/actions/index.ts';
import type { Particle } from '../../src/science/imaging/finding.ts';
import { openLaboratory } from '../../src/store/index.ts';
import type { Decision, ParticleRecord, Person, Photo } from '../../src/study/index.ts';
import { done, um } from '../../src/units/index.ts';
import {
  countedNames,
  photoBytes,
  pretendedFinding,
  pretendedParticle,
  pretendedWork,
  tickingClock,
} from './pretended.ts';
import { given, searchedPhoto, smallStudy, underNeedle } from './small-study.ts';

/** Six pieces of 40 px in a row of uneven gaps; the newer method sees them a third of a pixel aside, not the last, and one more. */
const pieceAt = (x: number): Particle =>
  pretendedParticle(0, {
    outlinePx: [
      [x, 100],
      [x + 40, 100],
      [x + 40, 140],
      [x, 140],
    ],
    centroidPx: [x + 20, 120],
    areaPx2: 1600,
    feretMaxPx: 56,
    feretMaxUm: um(280),
  });
const FIRST = [100, 300, 520, 760, 1000, 1300];
const NEWER = [...FIRST.slice(0, 5).map((x) => x + 0.33), 1600];

describe('a photograph searched anew', () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-anew-'));
  let tools: Tools;
  let newer: Tools;
  let close: () => Promise<void>;
  let made: Awaited<ReturnType<typeof smallStudy>>;
  let photo: Photo;
  let ben: Person;

  const seeing = (version: string, places: readonly number[]): PhotoWork => ({
    ...pretendedWork({}, version),
    find: async (_photo, wish) => done({ ...pretendedFinding(wish, places.map(pieceAt)), version }),
  });
  const now = (): Promise<readonly ParticleRecord[]> =>
    tools.records.look(async (look) => look.particles.ofFinding((await look.findings.newest(photo.id))!.id));
  const mark = async (number: number, decision: Decision, by = made.person.id) =>
    given(
      await markParticles(tools, {
        photo: photo.id,
        particles: [(await now()).find((one) => one.number === number)!.id],
        decision,
        by,
      }),
    );
  const run = async () =>
    (await tools.records.look((look) => countStudy(look, made.study))).runs.find(
      (one) => one.run.name === 'S1',
    )!;

  beforeAll(async () => {
    const clock = tickingClock();
    const names = countedNames();
    const laboratory = given(
      await openLaboratory(folder, { clock, names, make: { name: 'Anew', invented: true } }),
    );
    const { records, files } = laboratory;
    tools = { records, files, work: seeing('1', FIRST), clock, names };
    newer = { ...tools, work: seeing('2', NEWER) };
    close = laboratory.close;
    made = await smallStudy(tools);
    ben = given(await addPerson(tools, { name: 'Ben Example' }));
    photo = await searchedPhoto(tools, {
      filter: made.filters[0]!,
      name: 'S1.png',
      bytes: photoBytes(6),
      by: made.person,
    });
  });
  afterAll(async () => {
    await close();
    fs.rmSync(folder, { recursive: true, force: true });
  });

  it('repeats what was decided, by hand drawn and taken back, in the name of whoever decided', async () => {
    await mark(1, { kind: 'keep' });
    await mark(2, { kind: 'drop' }, ben.id);
    await mark(3, { kind: 'class', shape: 'film' }, ben.id);
    await mark(3, { kind: 'keep' });
    const cut = given(
      await markByHand(tools, {
        photo: photo.id,
        by: ben.id,
        hand: {
          deed: 'split',
          particle: (await now())[3]!.id,
          cut: [
            [780, 90],
            [780, 150],
          ],
        },
      }),
    );
    const halves = cut.particles.filter((one) => one.drawnBy !== null);
    expect(halves).toHaveLength(2);
    given(
      await markParticles(tools, {
        photo: photo.id,
        particles: [halves[1]!.id],
        decision: { kind: 'drop' },
        by: ben.id,
      }),
    );
    for (const outline of [
      [
        [1800, 300],
        [1850, 300],
        [1825, 340],
      ],
      // Where the newer method finds a piece by itself.
      [
        [1600, 100],
        [1640, 100],
        [1640, 140],
        [1600, 140],
      ],
    ] as const) {
      given(
        await markByHand(tools, {
          photo: photo.id,
          by: made.person.id,
          hand: { deed: 'draw', outline, shape: 'fragment', colour: 'blue' },
        }),
      );
    }
    await mark(5, { kind: 'drop' });
    given(await undo(tools, { study: made.study.id, by: made.person.id }));
    await mark(6, { kind: 'keep' });
    // Kept 1, 3, a half of 4, two drawn, 6; dropped 2, the other half; 5 undecided.
    expect(await run()).toMatchObject({ kept: 6, dropped: 2, unmarked: 1 });

    given(await findOnPhoto(newer, { photo: photo.id }));
    // The same without 6, which is not found any more.
    expect(await run()).toMatchObject({ kept: 5, dropped: 2, unmarked: 1 });
    const pieces = await now();
    const standing = (number: number) => pieces.find((one) => one.number === number)!;
    expect([1, 2, 3, 4, 5, 6].map((number) => standing(number).standing)).toEqual([
      'kept',
      'dropped',
      'kept',
      'replaced',
      'unmarked',
      'kept',
    ]);
    expect(standing(3).shapeNow).toBe('film');
    const marks = await tools.records.look((look) => look.marks.touching([standing(2).id]));
    expect(marks).toMatchObject([{ by: ben.id, decision: { kind: 'drop' } }]);
    const first = await tools.records.look((look) => look.marks.get(marks[0]!.carries!));
    expect(first).toMatchObject({ by: ben.id, decision: { kind: 'drop' } });
  });

  it('adds nothing when it is searched once more in the same way', async () => {
    const before = await run();
    expect(given(await findOnPhoto(newer, { photo: photo.id })).known).toBe(true);
    expect(await run()).toMatchObject({ kept: before.kept, dropped: before.dropped });
  });

  it('is due after a change of settings, and left alone where a test names a piece on it', async () => {
    const due = async () => {
      const { photos, inUse } = given(await toSearchAnew(newer, { study: made.study.id }));
      return [photos.length, inUse.length];
    };
    expect(await due()).toEqual([0, 0]);
    const wish = { study: made.study.id, smallestUm: null, by: made.person.id };
    expect(await setSearch(tools, { ...wish, falseFindsPerBlank: 0 })).toMatchObject({ ok: false });
    given(await setSearch(tools, { ...wish, falseFindsPerBlank: 2 }));
    expect(await due()).toEqual([1, 0]);
    given(await findOnPhoto(newer, { photo: photo.id }));
    expect(await due()).toEqual([0, 0]);
    expect(await run()).toMatchObject({ kept: 5, dropped: 2, unmarked: 1 });
    given(await answerBenchTest(tools, underNeedle((await now())[0]!.id, made.person.id)));
    given(await setSearch(tools, { ...wish, falseFindsPerBlank: 0.5, smallestUm: 60 }));
    expect(await due()).toEqual([0, 1]);
  });
});
