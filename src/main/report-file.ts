/** Reports written to disk: HTML, PDF where a Chromium is found, Markdown, or a folder of CSV tables. */
import { existsSync } from 'node:fs';
import { mkdir, mkdtemp, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { basename, dirname, extname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { reportStudy, type StudyReport, type Tools } from '../actions/index.ts';
import type { ReportMade, ReportWish } from '../cli/index.ts';
import { piecePictures } from '../decode/index.ts';
import { csvFiles, htmlOf, markdownOf, recountData } from '../report/index.ts';
import type { Reports } from '../server/index.ts';
import { openLaboratory, systemClock, systemNames, zipWriter } from '../store/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { foundChromium, printed } from './print-pdf.ts';

/** The reader's program, built beside the screens; null before a build. */
export async function readerScript(): Promise<string | null> {
  const from = import.meta.url.endsWith('.ts') ? '../../dist/reader' : '../../reader';
  const file = join(fileURLToPath(new URL(from, import.meta.url)), 'recount.js');
  return existsSync(file) ? readFile(file, 'utf8') : null;
}

/** The report as one HTML file, with the reader's recount where that was built and there is something to recount. */
export async function reportHtml({ report, facts }: StudyReport): Promise<string> {
  const script = await readerScript();
  const data = recountData(facts);
  return htmlOf(report, script !== null && data !== null ? { script, data } : null);
}

/** Reports for the server, made when they are asked for. */
export const servedReports = (
  tools: Pick<Tools, 'records' | 'files' | 'clock'>,
  version: string,
): Reports => ({
  prints: foundChromium() !== null,
  async report(study, as) {
    const made = await reportStudy(
      { ...tools, cutter: { cut: piecePictures } },
      { study, program: `Retentate ${version}`, picturesPerRun: as === 'html' || as === 'pdf' ? 6 : 0 },
    );
    if (!made.ok) return made;
    const called = fileName(made.value.facts.study.name);
    const name = `${called}.${as === 'csv' ? 'tables.json' : as}`;
    if (as === 'pdf') {
      const pdf = await asPdf(made.value);
      return pdf.ok ? done({ name, text: pdf.value }) : pdf;
    }
    if (as === 'tables') return done({ name: `${called} tables.zip`, text: await tablesZip(made.value) });
    if (as === 'md') return done({ name, text: markdownOf(made.value.report) });
    if (as === 'csv') {
      const tables = Object.fromEntries(csvFiles(made.value.facts).map((file) => [file.name, file.text]));
      return done({ name, text: JSON.stringify(tables) });
    }
    return done({ name, text: await reportHtml(made.value) });
  },
});

/** Without the reader's recount: it is of no use on paper. */
const asPdf = (made: StudyReport) => printed(htmlOf(made.report, null));

/** All tables in one file, as a browser can save it. */
async function tablesZip({ facts }: StudyReport): Promise<Uint8Array> {
  const beside = await mkdtemp(join(tmpdir(), 'retentate-tables-'));
  try {
    const file = join(beside, 'tables.zip');
    const zip = zipWriter(file);
    for (const { name, text } of csvFiles(facts)) await zip.addText(name, text);
    await zip.end();
    return new Uint8Array(await readFile(file));
  } finally {
    await rm(beside, { recursive: true, force: true });
  }
}

/** A study's name as the name of a file that every machine takes. */
const fileName = (name: string): string =>
  `report-${
    name
      .normalize('NFKD')
      .replace(/[^A-Za-z0-9]+/g, '-')
      .replace(/^-+|-+$/g, '')
      .slice(0, 60)
      .toLowerCase() || 'study'
  }`;

export async function makeReport(
  folder: string,
  wish: ReportWish,
  version: string,
): Promise<Outcome<ReportMade>> {
  const out = resolve(wish.out);
  if (existsSync(out) && !wish.replace)
    return refused({
      why: 'there-already',
      message: `${out} is there already: give another name, or --replace to write over it.`,
    });
  const opened = await openLaboratory(folder, { clock: systemClock, names: systemNames, make: null });
  if (!opened.ok) return opened;
  const open = opened.value;
  try {
    const studies = await open.records.look((look) => look.studies.list());
    const chosen = studyNamed(studies, wish.study, folder);
    if (!chosen.ok) return chosen;
    const made = await reportStudy(
      { records: open.records, files: open.files, clock: systemClock, cutter: { cut: piecePictures } },
      { study: chosen.value.id, program: `Retentate ${version}`, picturesPerRun: wish.pictures },
    );
    if (!made.ok) return made;
    const written = await write(made.value, out);
    if (!written.ok) return written;
    const first = made.value.facts.specimens[0];
    return done({
      out,
      study: chosen.value.name,
      files: written.value,
      state: first?.claim.state ?? 'not-measured',
      sentence: first?.claim.sentence ?? 'Nothing was measured.',
    });
  } finally {
    await open.close();
  }
}

function studyNamed<S extends { readonly id: string; readonly name: string }>(
  studies: readonly S[],
  name: string | undefined,
  folder: string,
): Outcome<S> {
  const list = studies.map((study) => `“${study.name}”`).join(', ');
  if (studies.length === 0)
    return refused({ why: 'no-such-study', message: `${folder} holds no study yet.` });
  if (name === undefined) {
    return studies.length === 1
      ? done(studies[0]!)
      : refused({ why: 'which-study', message: `${folder} holds ${list}: name one with --study.` });
  }
  const found = studies.find((study) => study.id === name || study.name === name);
  const close = studies.filter((study) => study.name.toLowerCase().includes(name.toLowerCase()));
  if (found) return done(found);
  return close.length === 1
    ? done(close[0]!)
    : refused({ why: 'no-such-study', message: `${folder} holds no study “${name}”: there is ${list}.` });
}

async function write(made: StudyReport, out: string): Promise<Outcome<readonly string[]>> {
  const kind = extname(out).toLowerCase();
  await mkdir(dirname(out), { recursive: true });
  if (kind === '.html' || kind === '.htm') {
    await writeWhole(out, await reportHtml(made));
    return done([out]);
  }
  if (kind === '.md') {
    await writeWhole(out, markdownOf(made.report));
    return done([out]);
  }
  if (kind === '.pdf') {
    const pdf = await asPdf(made);
    if (!pdf.ok) return pdf;
    await writeFile(out, pdf.value);
    return done([out]);
  }
  if (existsSync(out) && !(await stat(out)).isDirectory())
    return refused({
      why: 'not-a-folder',
      message: `${out} is a file: tables need a folder, or a name ending in .html, .pdf or .md.`,
    });
  await mkdir(out, { recursive: true });
  const files = csvFiles(made.facts);
  for (const file of files) await writeWhole(join(out, file.name), file.text);
  return done(files.map((file) => join(out, file.name)));
}

/** Beside it first, then moved into place: a killed process leaves no half report. */
async function writeWhole(path: string, text: string): Promise<void> {
  const beside = join(dirname(path), `.${basename(path)}.${process.pid}`);
  await writeFile(beside, text, 'utf8');
  await rename(beside, path);
}
