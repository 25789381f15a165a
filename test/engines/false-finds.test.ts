/** A study's own controls searched at several settings: what people decided there counts, and what is kept on record. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { falseFindsAsked } from '../../src/actions/false-finds-asked.ts';
import {
  answerBenchTest,
  findOnPhoto,
  learnFromControls,
  markParticles,
  type PhotoWork,
  setSearch,
  type Tools,
} from '../../src/actions/index.ts';
import type { Particle } from '../../src/science/imaging/finding.ts';
import { openLaboratory } from '../../src/store/index.ts';
import { type Decision, outdated, ownFalseFinds, type Photo } from '../../src/study/index.ts';
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
/** Two pieces that every setting finds, a speck of print from 0.15 on, grain from 0.3 on. */
const placesAt = (asked: number): number[] => [
  ...[100, 400],
  ...(asked >= 0.15 ? [700] : []),
  ...(asked >= 0.3 ? [1000] : []),
];

const BLANKS = 8;
/** Of each photograph 0.9 is searched. */
const WHOLE = BLANKS * 0.9;

describe('learning from own controls', () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-false-finds-'));
  let tools: Tools;
  let close: () => Promise<void>;
  let made: Awaited<ReturnType<typeof smallStudy>>;
  const photos: Photo[] = [];

  const bring = (filter: number, name: string) =>
    searchedPhoto(tools, {
      filter: made.filters[filter]!,
      name,
      bytes: photoBytes(2, name),
      by: made.person,
    });
  const learn = (filter: number, more: Partial<Parameters<typeof learnFromControls>[1]> = {}) =>
    learnFromControls(tools, {
      study: made.study.id,
      filters: [made.filters[filter]!.id],
      wanted: 0.5,
      droppedAre: 'false-finds',
      by: made.person.id,
      told: () => {},
      ...more,
    });
  const newest = () => tools.records.look((look) => look.falseFinds.newest(made.study.id));
  const pieceOf = async (photo: Photo, at: number) =>
    (
      await tools.records.look(async (look) =>
        look.particles.ofFinding((await look.findings.newest(photo.id))!.id),
      )
    )[at]!;
  const mark = async (photo: Photo, at: number, decision: Decision) =>
    given(
      await markParticles(tools, {
        photo: photo.id,
        particles: [(await pieceOf(photo, at)).id],
        decision,
        by: made.person.id,
      }),
    );

  beforeAll(async () => {
    const clock = tickingClock();
    const names = countedNames();
    const laboratory = given(
      await openLaboratory(folder, { clock, names, make: { name: 'False finds', invented: true } }),
    );
    const work: PhotoWork = {
      ...pretendedWork(),
      find: async (_photo, wish) =>
        done(pretendedFinding(wish, placesAt(wish.falseFindsPerBlank).map(pieceAt))),
    };
    tools = { records: laboratory.records, files: laboratory.files, work, clock, names };
    close = laboratory.close;
    made = await smallStudy(tools);
    await bring(0, 'S1.png');
    await bring(2, 'C1.png');
    for (let at = 0; at < BLANKS; at++) photos.push(await bring(4, `B1 ${at}.png`));
  }, 120_000);
  afterAll(async () => {
    await close();
    fs.rmSync(folder, { recursive: true, force: true });
  });

  it('needs controls with searched photographs, and keeps nothing when stopped', async () => {
    for (const filter of [0, 3, 5]) {
      expect(await learn(filter)).toMatchObject({ ok: false, refusal: { why: 'no-control-photograph' } });
    }
    expect(await learn(4, { stopped: Promise.resolve() })).toMatchObject({
      ok: false,
      refusal: { why: 'stopped' },
    });
    expect(await newest()).toBeNull();
  });

  it('counts what nobody decided on as a range, and as false in the choice', async () => {
    const told: [number, number][] = [];
    const { result, photos: searched } = given(
      await learn(4, { told: (amount, of) => told.push([amount, of]) }),
    );
    expect(searched).toEqual(photos.map(({ id }) => id));
    expect(result.rates.map(({ asked }) => asked)).toEqual([0.5, 0.2, 0.1, 0.05, 0.02, 0.01]);
    expect(result.rates[0]).toMatchObject({ falseFinds: 0, undecided: 4 * BLANKS, photographs: BLANKS });
    expect(result.rates.at(-1)).toMatchObject({ falseFinds: 0, undecided: 2 * BLANKS });
    expect(told.at(-1)).toEqual([6 * BLANKS - 1, 6 * BLANKS]);
  });

  it('takes real pieces out: kept ones, and ones that a test names; dropped ones are false finds', async () => {
    for (const photo of photos) {
      await mark(photo, 0, { kind: 'keep' });
      await mark(photo, 1, { kind: photo === photos[0] ? 'drop' : 'keep' });
      await mark(photo, 3, { kind: 'drop' });
    }
    // No plastic, but something: it lay under the needle.
    given(
      await answerBenchTest(tools, underNeedle((await pieceOf(photos[0]!, 1)).id, made.person.id, 'chars')),
    );
    const { result } = given(await learn(4));
    expect(result.rates.map(({ asked, falseFinds, undecided }) => [asked, falseFinds, undecided])).toEqual([
      [0.5, BLANKS, BLANKS],
      [0.2, 0, BLANKS],
      [0.1, 0, 0],
    ]);
    expect(result.rates[0]!.least.value).toBeCloseTo(BLANKS / WHOLE, 12);
    expect(result.rates[0]!.most.value).toBeCloseTo((2 * BLANKS) / WHOLE, 12);
    // Garwood 1936, none found: 0 to 3.6889.
    expect(result.rates[2]!.most.upper).toBeCloseTo(3.688879 / WHOLE, 5);
  });

  it('takes dropped ones out as well where they are said to be real things', async () => {
    const { result } = given(await learn(4, { droppedAre: 'real-things' }));
    expect(result.droppedAre).toBe('real-things');
    expect(result.rates.map(({ asked, falseFinds, undecided }) => [asked, falseFinds, undecided])).toEqual([
      [0.5, 0, BLANKS],
      [0.2, 0, BLANKS],
      [0.1, 0, 0],
    ]);
    given(await learn(4));
  });

  it('is told of the setting in force, with the finder and the size it was measured with, and of no other', async () => {
    const measured = (await newest())!;
    const now = { method: 'pretended', version: '1', smallestUm: null, falseFindsPerBlank: 0.1 };
    expect(ownFalseFinds(measured, now)).toMatchObject({ photographs: BLANKS, least: 0, most: 0 });
    expect(ownFalseFinds(measured, { ...now, falseFindsPerBlank: 0.3 })).toBeNull();
    expect(outdated(measured, now)).toBeNull();
    expect(outdated(measured, { ...now, version: '2' })).toMatch(/by pretended 2 now: measure again/);
    expect(ownFalseFinds(measured, { ...now, version: '2' })).toBeNull();
    expect(outdated(measured, { ...now, smallestUm: um(60) })).toMatch(/another smallest size/);

    const wish = { study: made.study.id, smallestUm: null, by: made.person.id };
    given(await setSearch(tools, { ...wish, falseFindsPerBlank: 0.1 }));
    given(await findOnPhoto(tools, { photo: photos[0]!.id }));
    const asked = await tools.records.look((look) => falseFindsAsked(look, made.study));
    expect(asked.map((way) => [way.asked, way.photos, way.own?.upper])).toEqual([
      [0.5, BLANKS + 1, measured.result.rates[0]!.most.upper],
      [0.1, 1, measured.result.rates[2]!.most.upper],
    ]);
  });

  it('tells nothing from one photograph but what was found there', async () => {
    const { result } = given(await learn(2));
    expect(result.rates.map(({ asked, photographs }) => [asked, photographs])).toEqual([[0.5, 1]]);
  });
});
