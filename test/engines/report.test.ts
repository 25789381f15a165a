/** The report of a small study in the embedded database, from the records to the files that somebody gets. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findOnPhoto } from '../../src/actions/find-on-photo.ts';
import { importPhoto } from '../../src/actions/import-photo.ts';
import type { Tools } from '../../src/actions/index.ts';
import { markParticles } from '../../src/actions/mark-particles.ts';
import { recordDeviation } from '../../src/actions/record-at-the-bench.ts';
import { reportStudy, type StudyReport } from '../../src/actions/report-study.ts';
import { standing } from '../../src/actions/standing.ts';
import { withdrawOrPutBack } from '../../src/actions/withdraw-run.ts';
import { makeReport } from '../../src/main/report-file.ts';
import { csvFiles, htmlOf, markdownOf, recount, recountData } from '../../src/report/index.ts';
import { openLaboratory, systemClock, systemNames } from '../../src/store/index.ts';
import { done } from '../../src/units/index.ts';
import { photoBytes, pretendedWork } from './pretended.ts';
import { given, smallStudy, step } from './small-study.ts';

const COUNTS: Readonly<Record<string, number>> = { S1: 9, S2: 7, C1: 2, C2: 1, B1: 1, K1: 12 };

describe('the report of a small study', () => {
  const parent = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-report-'));
  const folder = path.join(parent, 'laboratory');
  const close: (() => Promise<void>)[] = [];
  let tools: Tools;
  let made: Awaited<ReturnType<typeof smallStudy>>;
  let report: StudyReport;

  beforeAll(async () => {
    const opened = given(
      await openLaboratory(folder, {
        clock: systemClock,
        names: systemNames,
        make: { name: 'Contract', invented: true },
      }),
    );
    close.push(() => opened.close());
    tools = {
      records: opened.records,
      files: opened.files,
      work: pretendedWork(),
      clock: systemClock,
      names: systemNames,
    };
    made = await smallStudy(tools);
    for (const [at, run] of made.runs.entries()) {
      if (run.name === 'B1') continue;
      const { photo } = given(
        await importPhoto(tools, {
          filter: made.filters[at]!.id,
          source: { bytes: photoBytes(COUNTS[run.name]!, run.name) },
          name: `${run.name}.png`,
          by: made.person.id,
        }),
      );
      const found = given(await findOnPhoto(tools, { photo: photo.id }));
      const there = await tools.records.look((look) => look.particles.ofFinding(found.finding.id));
      if (run.name === 'S1')
        given(
          await markParticles(tools, {
            photo: photo.id,
            particles: [there[8]!.id],
            decision: { kind: 'drop' },
            by: made.person.id,
          }),
        );
    }
    given(
      await recordDeviation(tools, {
        runs: [made.runs[1]!.id],
        kind: 'changed',
        stepKey: 'filter',
        asDone: step('filter', 'filter', { volume_ml: 150, pore_um: 10 }),
        what: 'The filter clogged.',
        why: 'too much pulp',
        by: made.person.id,
      }),
    );
    const subject = made.runs.find(({ name }) => name === 'K1')!.id;
    const withdrawal = { study: made.study.id, what: 'run', subject, withdrawn: true } as const;
    given(await withdrawOrPutBack(tools, { ...withdrawal, why: 'the vial broke', by: made.person.id }));
    report = given(
      await reportStudy(
        {
          ...tools,
          cutter: {
            cut: async (_path, _name, squares) => done(squares.map(() => 'data:image/jpeg;base64,AAAA')),
          },
        },
        { study: made.study.id, program: 'Retentate test', picturesPerRun: 2 },
      ),
    );
  });
  afterAll(async () => {
    for (const one of close) await one();
    fs.rmSync(parent, { recursive: true, force: true });
  });

  it('says the claim that the study stands at', async () => {
    const stands = given(await standing(tools, { study: made.study.id }));
    expect(report.facts.specimens[0]!.claim.sentence).toBe(stands.specimens[0]!.claim.sentence);
    expect(markdownOf(report.report)).toContain('## Claim');
  });

  it('keeps none seen and not looked apart', () => {
    const run = (name: string) => report.facts.runs.find((one) => one.name === name)!;
    expect(run('B1').count).toBeNull();
    expect(run('C2').count).not.toBeNull();
    expect(run('S2').passed).toBeCloseTo(0.75, 6);
    expect(run('S2').fractions.map((one) => one.fate)).toEqual(['examined', 'kept']);
  });

  it('has a dropped piece in the particles and not in the counts', () => {
    const rows = csvFiles(report.facts)
      .find((file) => file.name === 'particles.csv')!
      .text.split('\r\n');
    const dropped = rows.filter((line) => line.includes(',dropped,'));
    expect(dropped).toHaveLength(1);
    expect(dropped[0]!.endsWith(',false')).toBe(true);
    const pieces = report.facts.pieces.filter((piece) => piece.run === 'S1');
    expect(pieces).toHaveLength(9);
  });

  it('shows deviation, remainder and methods', () => {
    const html = htmlOf(report.report, null);
    expect(html).toContain('The filter clogged.');
    expect(html).toContain('cold shelf, bottle 2');
    expect(html).toContain('chop and filter, edition 1');
  });

  it('names a withdrawn run with its reason and its count, which is in no other figure', () => {
    expect(report.facts.runs.map(({ name }) => name)).not.toContain('K1');
    const [said] = report.facts.withdrawals;
    expect(said).toMatchObject({ name: 'K1', why: 'the vial broke', countOpen: true, by: 'Ada Example' });
    expect(said!.counted).toBeGreaterThan(0);
    const html = htmlOf(report.report, null);
    expect(html).toContain('the vial broke');
    expect(html).toContain('K1 (“the vial broke”, after its count could be read)');
    const table = csvFiles(report.facts).find((file) => file.name === 'withdrawals.csv')!.text;
    expect(table).toContain('run,K1,true,the vial broke,true,');
  });

  it('lets a reader recount to the same claim, where there was one', () => {
    const data = recountData(report.facts);
    expect(data).not.toBeNull();
    expect(recount(data!, new Map()).claim.sentence).toBe(report.facts.specimens[0]!.claim.sentence);
  });

  it('is written as files, and not over what is there', async () => {
    for (const one of close.splice(0)) await one();
    const html = path.join(parent, 'out', 'r.html');
    const wish = { pictures: 0, replace: false };
    const written = given(await makeReport(folder, { ...wish, out: html }, 'test'));
    expect(written.files).toEqual([html]);
    expect(fs.readFileSync(html, 'utf8')).toMatch(/^<!doctype html>/);
    const again = await makeReport(folder, { ...wish, out: html }, 'test');
    expect(again).toMatchObject({ ok: false, refusal: { why: 'there-already' } });
    const tables = given(await makeReport(folder, { ...wish, out: path.join(parent, 'tables') }, 'test'));
    expect(tables.files.length).toBeGreaterThan(6);
    expect(fs.readdirSync(path.join(parent, 'tables')).sort()).toEqual(
      tables.files.map((file) => path.basename(file)).sort(),
    );
    const other = await makeReport(
      folder,
      { ...wish, study: 'Nothing of the kind', out: `${html}.md` },
      'test',
    );
    expect(other).toMatchObject({ ok: false, refusal: { why: 'no-such-study' } });
  });
});
