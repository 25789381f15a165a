/** Reports written to disk: HTML, PDF where a Chromium is found, Markdown, or a folder of CSV tables. */
import { execFile } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdir, mkdtemp, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { basename, delimiter, dirname, extname, join, resolve } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { promisify } from 'node:util';
import { reportStudy, type StudyReport, type Tools } from '../actions/index.ts';
import type { ReportMade, ReportWish } from '../cli/index.ts';
import { piecePictures } from '../decode/index.ts';
import { csvFiles, htmlOf, markdownOf, recountData } from '../report/index.ts';
import type { Reports } from '../server/index.ts';
import { openLaboratory, systemClock, systemNames } from '../store/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';

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
  async report(study, as) {
    const made = await reportStudy(
      { ...tools, cutter: { cut: piecePictures } },
      { study, program: `Retentate ${version}`, picturesPerRun: as === 'html' ? 6 : 0 },
    );
    if (!made.ok) return made;
    const name = `${fileName(made.value.facts.study.name)}.${as === 'csv' ? 'tables.json' : as}`;
    if (as === 'md') return done({ name, text: markdownOf(made.value.report) });
    if (as === 'csv') {
      const tables = Object.fromEntries(csvFiles(made.value.facts).map((file) => [file.name, file.text]));
      return done({ name, text: JSON.stringify(tables) });
    }
    return done({ name, text: await reportHtml(made.value) });
  },
});

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
  if (kind === '.pdf') return writePdf(made, out);
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

const CHROMIUMS = [
  'chromium',
  'chromium-browser',
  'google-chrome',
  'google-chrome-stable',
  'chrome',
  'msedge',
];
const PLACES = [
  '/usr/bin/chromium',
  '/snap/bin/chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
];

function foundChromium(): string | null {
  const folders = (process.env.PATH ?? '').split(delimiter).filter(Boolean);
  const named = process.env.CHROME_PATH ? [process.env.CHROME_PATH] : [];
  const onPath = folders.flatMap((folder) => CHROMIUMS.map((name) => join(folder, name)));
  return [...named, ...PLACES, ...onPath].find((path) => existsSync(path)) ?? null;
}

async function writePdf(made: StudyReport, out: string): Promise<Outcome<readonly string[]>> {
  const browser = foundChromium();
  if (browser === null)
    return refused({
      why: 'no-chromium',
      message:
        'No Chromium was found to print with: install one or set CHROME_PATH, or write .html and print that.',
    });
  const beside = await mkdtemp(join(tmpdir(), 'retentate-report-'));
  try {
    const page = join(beside, 'report.html');
    const pdf = join(beside, 'report.pdf');
    // Printed without the reader's recount: it is of no use on paper.
    await writeFile(page, htmlOf(made.report, null), 'utf8');
    const sandbox = process.getuid?.() === 0 ? ['--no-sandbox'] : [];
    await promisify(execFile)(
      browser,
      [
        '--headless',
        ...sandbox,
        '--disable-gpu',
        '--disable-quic',
        '--no-first-run',
        '--disable-background-networking',
        `--user-data-dir=${join(beside, 'profile')}`,
        '--no-pdf-header-footer',
        `--print-to-pdf=${pdf}`,
        pathToFileURL(page).href,
      ],
      { timeout: 120_000 },
    );
    await writeFile(out, await readFile(pdf));
    return done([out]);
  } finally {
    await rm(beside, { recursive: true, force: true });
  }
}
