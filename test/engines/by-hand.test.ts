/** Pieces that somebody chose and tested: no share rests on them, and a random part is still drawn from all. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  answerBenchTest,
  drawSubset,
  evidenceOf,
  standing,
  type Tools,
  undoEvidence,
} from '../../src/actions/index.ts';
import { openLaboratory } from '../../src/store/index.ts';
import type { ParticleRecord } from '../../src/study/index.ts';
import { countedNames, photoBytes, pretendedWork, tickingClock } from './pretended.ts';
import { given, searchedPhoto, smallStudy, underNeedle } from './small-study.ts';

describe('pieces chosen by hand', () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-by-hand-'));
  let tools: Tools;
  let close: () => Promise<void>;
  let made: Awaited<ReturnType<typeof smallStudy>>;
  let pieces: readonly ParticleRecord[] = [];

  const answer = (particle: string, value: string, test = 'heated-needle', setting = 'tip-350') =>
    answerBenchTest(tools, { ...underNeedle(particle, made.person.id, value), test, setting });
  const draw = async (name: string, many: number) =>
    given(
      await drawSubset(tools, {
        study: made.study.id,
        name,
        test: 'heated-needle',
        pieces: many,
        seed: 4,
        by: made.person.id,
      }),
    ).strata.flatMap(({ drawn }) => drawn);
  const said = async () => [
    given(await standing(tools, { study: made.study.id })).specimens[0]!,
    await tools.records.look(async (look) => [...(await evidenceOf(look, made.study)).confirmed]),
  ];

  beforeAll(async () => {
    const clock = tickingClock();
    const names = countedNames();
    const laboratory = given(
      await openLaboratory(folder, { clock, names, make: { name: 'By hand', invented: true } }),
    );
    tools = { records: laboratory.records, files: laboratory.files, work: pretendedWork(), clock, names };
    close = laboratory.close;
    made = await smallStudy(tools, 'By hand', 2);
    for (const [at, run] of made.runs.entries()) {
      const bytes = photoBytes(run.kind === 'specimen' ? 14 : 6, `by hand ${at}`);
      const name = `${run.name}.png`;
      const photo = await searchedPhoto(tools, { filter: made.filters[at]!, name, bytes, by: made.person });
      if (run.kind === 'spiked-run' || run.kind === 'procedural-blank') continue;
      pieces = await tools.records.look(async (look) => {
        const finding = await look.findings.newest(photo.id);
        const found = await look.particles.ofFinding(finding!.id);
        return [...pieces, ...found.filter(({ feretMaxUm }) => (feretMaxUm ?? 0) >= 200)];
      });
    }
  });
  afterAll(async () => {
    await close();
    fs.rmSync(folder, { recursive: true, force: true });
  });

  it('move no share, no claim and no name of a polymer', async () => {
    const drawn = new Set(await draw('First', 16));
    for (const id of drawn) given(await answer(id, 'melts'));
    const before = await said();
    const free = pieces.filter(({ id }) => !drawn.has(id));
    expect(free.length).toBeGreaterThan(9);
    const answers = [];
    for (const { id } of free.slice(0, 6)) answers.push(given(await answer(id, 'chars')));
    for (const { id } of free.slice(6, 9)) given(await answer(id, 'PS', 'spectrum', 'infrared'));
    expect(await said()).toEqual(before);
    const { study, person } = made;
    given(await undoEvidence(tools, { study: study.id, undoes: answers[0]!.id, by: person.id }));
    expect(await said()).toEqual(before);
  });

  it('can still be drawn for the test that they were put to, and then their answer stands', async () => {
    const told = await tools.records.look(async (look) => (await evidenceOf(look, made.study)).answers);
    const first = await tools.records.look((look) => look.confirmations.ofStudy(made.study.id));
    const before = new Set(first.flatMap(({ strata }) => strata.flatMap(({ drawn }) => drawn)));
    const chosen = told.filter(({ particle, test }) => test === 'heated-needle' && !before.has(particle));
    expect(chosen).toHaveLength(5);
    const frame = new Set(await draw('All the rest', 500));
    for (const { particle } of chosen) expect(frame.has(particle)).toBe(true);
    for (const id of before) expect(frame.has(id)).toBe(false);
    const [, last] = await tools.records.look(async (look) => (await evidenceOf(look, made.study)).confirmed);
    const tested = last!.strata.reduce((sum, stratum) => sum + stratum.tested, 0);
    expect(tested).toBe(chosen.length);
  });
});
