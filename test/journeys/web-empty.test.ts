/** A laboratory with nothing in it, a wrong address, and what the first page costs. */
import { readdirSync, readFileSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildScreens, faultsOf, foundBrowser, openBrowser, openLaboratory } from './web-laboratory.ts';

const browserPath = foundBrowser();
if (browserPath === null) {
  process.stdout.write(
    'journey of an empty laboratory skipped: no Chromium found; set CHROME_PATH to one.\n',
  );
}
const soon = <T>(get: () => T | Promise<T>) => expect.poll(get, { timeout: 60_000, interval: 50 });
const textOf = async (place: ReturnType<Page['locator']>) =>
  ((await place.textContent()) ?? '').replaceAll('\u00a0', ' ');

describe.skipIf(browserPath === null)('the application with nothing in it', () => {
  let browser: Browser;
  let page: Page;
  let parent: string;

  beforeAll(async () => {
    parent = await mkdtemp(join(tmpdir(), 'retentate-empty-'));
    [browser] = await Promise.all([openBrowser(browserPath!), buildScreens()]);
    page = await (await browser.newContext()).newPage();
  });
  afterAll(async () => {
    await browser?.close();
    await rm(parent, { recursive: true, force: true });
  });

  it('teaches in an empty laboratory, and leaves nobody at a wrong address', async () => {
    const empty = await openLaboratory(join(parent, 'empty'));
    try {
      for (const [path, says] of [
        ['/', 'No study yet'],
        ['/kitchen', 'No such page'],
        ['/studies/none', 'This cannot be shown'],
      ] as const) {
        await page.goto(empty.address + path);
        await soon(() => textOf(page.locator('main'))).toContain(says);
        expect((await page.locator('main a').count()) + (path === '/' ? 1 : 0)).toBeGreaterThan(0);
        expect(await faultsOf(page), path).toEqual([]);
      }
      expect(await page.locator('.invented').count()).toBe(0);
    } finally {
      await empty.close();
    }
  });

  it('sends at most 250 kB of script, compressed, with the first page', () => {
    const folder = fileURLToPath(new URL('../../dist/web', import.meta.url));
    const html = readFileSync(join(folder, 'index.html'), 'utf8');
    const scripts = [...html.matchAll(/(?:src|href)="\/(assets\/[^"]+\.js)"/g)].map((match) => match[1]!);
    expect(scripts.length).toBeGreaterThan(0);
    const bytes = scripts.reduce((sum, name) => sum + gzipSync(readFileSync(join(folder, name))).length, 0);
    expect(bytes).toBeLessThan(250_000);
    // The viewer is not among them: it comes when somebody looks.
    const viewer = readdirSync(join(folder, 'assets')).find((name) => /^photo-page-.*\.js$/.test(name))!;
    expect(scripts).not.toContain(`assets/${viewer}`);
  });
});
