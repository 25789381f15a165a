/** Printing a page to PDF by the Chromium of this machine, where there is one. */
import { execFile } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { promisify } from 'node:util';
import { done, type Outcome, refused } from '../units/index.ts';

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

/** The Chromium to print with; null: none is on this machine. */
export function foundChromium(): string | null {
  const folders = (process.env.PATH ?? '').split(delimiter).filter(Boolean);
  const named = process.env.CHROME_PATH ? [process.env.CHROME_PATH] : [];
  const onPath = folders.flatMap((folder) => CHROMIUMS.map((name) => join(folder, name)));
  return [...named, ...PLACES, ...onPath].find((path) => existsSync(path)) ?? null;
}

/** One after the other: a browser takes a few hundred megabytes while it prints. */
let printing: Promise<unknown> = Promise.resolve();

/** A page printed by the Chromium of this machine. The page must need no network and hold no script. */
export function printed(html: string): Promise<Outcome<Uint8Array>> {
  const mine = printing.then(() => print(html));
  printing = mine.catch(() => {});
  return mine;
}

async function print(html: string): Promise<Outcome<Uint8Array>> {
  const browser = foundChromium();
  if (browser === null)
    return refused({
      why: 'no-chromium',
      message:
        'No Chromium was found to print with: install one or set CHROME_PATH, or save the HTML and print that.',
    });
  const beside = await mkdtemp(join(tmpdir(), 'retentate-report-'));
  try {
    const page = join(beside, 'report.html');
    const pdf = join(beside, 'report.pdf');
    await writeFile(page, html, 'utf8');
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
    return done(new Uint8Array(await readFile(pdf)));
  } finally {
    await rm(beside, { recursive: true, force: true });
  }
}
