/** Known pieces drawn into a study's controls: which photographs, what is kept, and what the claim says of it. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  claimDetails,
  measureCompleteness,
  type PhotoWork,
  standing,
  type Tools,
} from '../../src/actions/index.ts';
import type { Completeness } from '../../src/science/imaging/completeness/completeness.ts';
import { openLaboratory } from '../../src/store/index.ts';
import { done, refused } from '../../src/units/index.ts';
import { countedNames, photoBytes, pretendedWork, tickingClock } from './pretended.ts';
import { given, searchedPhoto, smallStudy } from './small-study.ts';

const floor = (chance: number, sizeUm: number) => ({
  chance,
  sizeUm,
  lowerUm: sizeUm * 0.8,
  upperUm: sizeUm * 1.25,
  because: null,
});
const MEASURED: Completeness = {
  method: 'pretended',
  version: '1',
  photographs: 2,
  drawn: 40,
  notDrawn: 0,
  cells: [
    {
      shape: 'fragment',
      contrast: 'middling',
      sizeUm: 60,
      found: 8,
      drawn: 20,
      share: 0.4,
      lower: 0.2,
      upper: 0.6,
    },
    {
      shape: 'fragment',
      contrast: 'middling',
      sizeUm: 200,
      found: 19,
      drawn: 20,
      share: 0.95,
      lower: 0.8,
      upper: 1,
    },
  ],
  floors: [{ shape: 'all', contrast: 'middling', half: floor(0.5, 66), nineTenths: floor(0.9, 150) }],
  blurPx: 1.2,
  confidence: 0.95,
  seed: 1,
};

describe('completeness of a study', () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-completeness-'));
  const asked: string[][] = [];
  let answer: ReturnType<PhotoWork['completeness']> = Promise.resolve(done(MEASURED));
  let tools: Tools;
  let close: () => Promise<void>;
  let made: Awaited<ReturnType<typeof smallStudy>>;

  const bring = (filter: number, pieces: number, name: string) =>
    searchedPhoto(tools, {
      filter: made.filters[filter]!,
      name,
      bytes: photoBytes(pieces, name),
      by: made.person,
    });
  const measure = () =>
    measureCompleteness(tools, { study: made.study.id, by: made.person.id, told: () => {} });
  const notes = async () =>
    given(await standing(tools, { study: made.study.id })).heldBack.filter(
      (note) => note.why === 'sizes-seldom-found',
    );

  beforeAll(async () => {
    const clock = tickingClock();
    const names = countedNames();
    const laboratory = given(
      await openLaboratory(folder, { clock, names, make: { name: 'Completeness', invented: true } }),
    );
    const work: PhotoWork = {
      ...pretendedWork(),
      completeness: (photos, wish, told) => {
        asked.push([wish.scale.from, ...photos.map(({ name }) => name)]);
        told(40, 40);
        return answer;
      },
    };
    tools = { records: laboratory.records, files: laboratory.files, work, clock, names };
    close = laboratory.close;
    made = await smallStudy(tools);
  });
  afterAll(async () => {
    await close();
    fs.rmSync(folder, { recursive: true, force: true });
  });

  it('needs a control’s photograph that was searched', async () => {
    await bring(0, 40, 'S1.png');
    const none = await measure();
    expect(none).toMatchObject({ ok: false, refusal: { why: 'no-control-photograph' } });
    expect(asked).toEqual([]);
    expect(await notes()).toEqual([]);
  });

  it('draws into controls, the emptiest of each filter first, and keeps nothing when stopped', async () => {
    await bring(1, 42, 'S2.png');
    await bring(2, 5, 'C1.png');
    await bring(3, 4, 'C2.png');
    await bring(3, 2, 'C2 again.png');
    answer = Promise.resolve(refused({ why: 'stopped', message: 'Stopped before the end; start it again.' }));
    expect(await measure()).toMatchObject({ ok: false, refusal: { why: 'stopped' } });
    expect(asked.at(-1)).toEqual(['printed-grid', 'C2 again.png', 'C1.png', 'C2.png']);
    expect(await tools.records.look((look) => look.completeness.newest(made.study.id))).toBeNull();
  });

  it('goes into the claim: what is seldom found, and the chance of being found in each band', async () => {
    answer = Promise.resolve(done(MEASURED));
    const kept = given(await measure());
    expect(kept.photos).toHaveLength(3);
    expect(kept.result).toEqual(MEASURED);
    const [note] = await notes();
    expect(note!.message).toMatch(/nine in ten .* from 150 µm up \(120 to 188 µm at 95 % confidence\)/);
    const { sizes } = given(await claimDetails(tools, { study: made.study.id, specimen: made.specimen.id }));
    const bands = given(sizes).find(({ scheme }) => scheme.id === 'eu-2024-1441')!.bands;
    const chances = bands.map((band) => [band.fromUm, band.chanceOfFinding]);
    // 8 of 20 drawn at 60 µm, 19 of 20 at 200 µm; none drawn elsewhere.
    expect(chances.filter(([, chance]) => chance !== null).map(([, chance]) => chance)).toEqual([0.4, 0.95]);
  });
});
