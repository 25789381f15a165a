/** What the web journeys need around them: built screens, the example laboratory, the program that serves it, a browser. */
import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { cp, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { AxeBuilder } from '@axe-core/playwright';
import { type Browser, chromium, type Page } from 'playwright-core';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

/** The two sizes that every journey is walked at: a desk, and a telephone in the hand. */
export const SIZES = [
  { size: 'wide', viewport: { width: 1440, height: 900 } },
  { size: 'phone', viewport: { width: 390, height: 844 } },
] as const;
export type Size = (typeof SIZES)[number];

/** Keeps a picture of the page where RETENTATE_PICTURES names a folder; docs/pictures is made so. */
export async function picture(page: Page, name: string): Promise<void> {
  const folder = process.env.RETENTATE_PICTURES;
  if (folder) await page.screenshot({ path: join(folder, `${name}.png`) });
}

const BROWSERS = [
  process.env.CHROME_PATH,
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
];

/** A Chromium of this machine, or null where there is none. */
export const foundBrowser = (): string | null =>
  BROWSERS.find((path) => path !== undefined && existsSync(path)) ?? null;

export const openBrowser = (executablePath: string): Promise<Browser> =>
  chromium.launch({
    executablePath,
    args: [
      '--headless',
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });

/** As people get them: a process of its own, because under test the libraries would build their larger, slower selves. */
export async function buildScreens(): Promise<void> {
  // `npm test` has built them a moment ago.
  if (process.env.RETENTATE_BUILT) return;
  const child = spawn(
    process.execPath,
    [join(ROOT, 'node_modules/vite/bin/vite.js'), 'build', '--logLevel', 'error'],
    {
      cwd: ROOT,
      env: { ...process.env, NODE_ENV: 'production' },
      stdio: ['ignore', 'pipe', 'pipe'],
    },
  );
  const said = collected(child);
  const code = await ended(child);
  if (code !== 0) throw new Error(`The screens were not built (${code}): ${said.err().slice(-600)}`);
}

const run = (args: readonly string[]): ChildProcess =>
  spawn(process.execPath, ['--import', 'tsx', join(ROOT, 'src/main/retentate.ts'), ...args], {
    cwd: ROOT,
    stdio: ['ignore', 'pipe', 'pipe'],
  });

function collected(child: ChildProcess): { out: () => string; err: () => string } {
  let out = '';
  let err = '';
  child.stdout!.on('data', (part: Buffer) => {
    out += part.toString();
  });
  child.stderr!.on('data', (part: Buffer) => {
    err += part.toString();
  });
  return { out: () => out, err: () => err };
}

const ended = (child: ChildProcess): Promise<number | null> =>
  new Promise((resolve) => {
    if (child.exitCode !== null) resolve(child.exitCode);
    else child.once('exit', (code) => resolve(code));
  });

/**
 * The example laboratory, made anew in a folder of its own; RETENTATE_EXAMPLE may name one made before, which is copied.
 */
export async function makeExample(): Promise<{ folder: string; remove: () => Promise<void> }> {
  const parent = await mkdtemp(join(tmpdir(), 'retentate-web-'));
  const folder = join(parent, 'example');
  const remove = () => rm(parent, { recursive: true, force: true });
  const before = process.env.RETENTATE_EXAMPLE;
  if (before) {
    await cp(before, folder, { recursive: true });
    return { folder, remove };
  }
  const child = run(['demo', folder, '--json']);
  const said = collected(child);
  const code = await ended(child);
  if (code !== 0) throw new Error(`The example was not made (${code}): ${said.err().slice(-600)}`);
  return { folder, remove };
}

export interface Opened {
  readonly address: string;
  readonly port: number;
  readonly close: () => Promise<void>;
}

/** Opens a laboratory folder with the program itself; port 0 takes any. */
export async function openLaboratory(folder: string, port = 0): Promise<Opened> {
  const child = run(['open', folder, '--port', String(port), '--json']);
  const said = collected(child);
  const close = async () => {
    child.kill('SIGINT');
    await ended(child);
  };
  const until = Date.now() + 60_000;
  while (Date.now() < until && child.exitCode === null) {
    const line = said.out().split('\n')[0];
    if (line && said.out().includes('\n')) {
      const { address } = JSON.parse(line) as { address: string };
      return { address, port: Number(new URL(address).port), close };
    }
    await new Promise((resume) => setTimeout(resume, 50));
  }
  await close();
  throw new Error(`The laboratory was not opened: ${said.err().slice(-600)}`);
}

/** What axe holds against a page, one line for each rule; an empty list is a clean page. */
export async function faultsOf(page: Page): Promise<string[]> {
  const { violations } = await new AxeBuilder({ page })
    .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'])
    .analyze();
  return violations.map(
    ({ id, nodes }) => `${id}: ${nodes.map((node) => node.html.slice(0, 160)).join(' | ')}`,
  );
}
