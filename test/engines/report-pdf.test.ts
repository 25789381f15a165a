/** The report as PDF and as tables, as the server gives them; the PDF where a Chromium is on this machine. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { inflateSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { foundChromium, printed } from '../../src/main/print-pdf.ts';
import { servedReports } from '../../src/main/report-file.ts';
import { openLaboratory, zipReader } from '../../src/store/index.ts';
import { countedNames, pretendedWork, tickingClock } from './pretended.ts';
import { given, smallStudy } from './small-study.ts';

const chromium = foundChromium();
if (chromium === null) process.stdout.write('PDF not tried: no Chromium found; set CHROME_PATH to one.\n');

/** Pages of a PDF, and how often its pages set type. */
function looked(pdf: Uint8Array): { pages: number; set: number } {
  const bytes = Buffer.from(pdf);
  const text = bytes.toString('latin1');
  let set = 0;
  for (const found of text.matchAll(/\/FlateDecode[^>]*>>\s*stream\r?\n/g)) {
    const from = found.index + found[0].length;
    try {
      const content = inflateSync(bytes.subarray(from, text.indexOf('endstream', from))).toString('latin1');
      set += (content.match(/\bT[jJ]\b/g) ?? []).length;
    } catch {
      // a font or a picture in another form
    }
  }
  return { pages: (text.match(/\/Type\s*\/Page\b(?!s)/g) ?? []).length, set };
}

describe('reports from the server', () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-reports-'));
  let close: () => Promise<void>;
  let reports: ReturnType<typeof servedReports>;
  let study = '';
  beforeAll(async () => {
    const [clock, names] = [tickingClock(), countedNames()];
    const open = given(
      await openLaboratory(path.join(folder, 'lab'), {
        clock,
        names,
        make: { name: 'Reports', invented: true },
      }),
    );
    close = open.close;
    const { records, files } = open;
    study = (await smallStudy({ records, files, work: pretendedWork(), clock, names })).study.id;
    reports = servedReports({ records, files, clock }, '0.0.0');
  }, 60_000);
  afterAll(async () => {
    await close();
    fs.rmSync(folder, { recursive: true, force: true });
  });

  it('give every table in one zip', async () => {
    const { name, text } = given(await reports.report(study, 'tables'));
    expect(name).toBe('report-boards tables.zip');
    const file = path.join(folder, 'tables.zip');
    fs.writeFileSync(file, text);
    const zip = given(await zipReader(file, 'The tables'));
    const names = zip.entries.map((entry) => entry.path);
    expect(names).toContain('runs.csv');
    expect(given(await zip.text('runs.csv')).text).toContain('S1');
    await zip.close();
  });

  it('say whether they print', () => {
    expect(reports.prints).toBe(chromium !== null);
  });

  it.skipIf(chromium === null)(
    'print a PDF with pages and text on them',
    async () => {
      const { name, text } = given(await reports.report(study, 'pdf'));
      expect(name).toBe('report-boards.pdf');
      expect(Buffer.from(text as Uint8Array).toString('latin1', 0, 5)).toBe('%PDF-');
      const whole = looked(text as Uint8Array);
      expect(whole.pages).toBeGreaterThan(1);
      expect(whole.set).toBeGreaterThan(50);
      // the same look at a page with nothing on it finds nothing
      expect(looked(given(await printed('<!doctype html><title>none</title>')))).toEqual({
        pages: 1,
        set: 0,
      });
    },
    120_000,
  );
});
