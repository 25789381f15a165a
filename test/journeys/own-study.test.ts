/** From an empty laboratory to a claim, by the page alone: question, specimen, procedure, runs, filters, photographs. */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { FiltersAnswer, StandingJson, StudiesAnswer } from '../../src/api/index.ts';
import { plainFilter } from './plain-filter.ts';
import {
  buildScreens,
  faultsOf,
  foundBrowser,
  type Opened,
  openBrowser,
  openLaboratory,
  picture,
  SIZES,
} from './web-laboratory.ts';

const browserPath = foundBrowser();
if (browserPath === null) {
  process.stdout.write('own study journey skipped: no Chromium found; set CHROME_PATH to one.\n');
}
const soon = <T>(get: () => T | Promise<T>) => expect.poll(get, { timeout: 120_000, interval: 100 });

/** Pieces on the filter of each run; the program must find them for itself. */
const PIECES: Readonly<Record<string, number>> = {
  'Run 1': 11,
  'Run 2': 12,
  'Run 3': 10,
  'Act control 1': 1,
  'Act control 2': 0,
  'Act control 3': 2,
  'Act control 4': 1,
  'Act control 5': 0,
};

const atBothSizes = describe.skipIf(browserPath === null).each(SIZES);

atBothSizes('a study of one’s own, from nothing, $size', ({ size, viewport }) => {
  let browser: Browser;
  let opened: Opened;
  let parent: string;
  let page: Page;
  let study: string;
  const faults: string[] = [];
  const asked = async <T>(path: string): Promise<T> =>
    (await fetch(opened.address + path)).json() as Promise<T>;
  const button = (name: string | RegExp) =>
    page.getByRole('button', { name, exact: typeof name === 'string' });
  const place = (name: string) => page.goto(`${opened.address}/studies/${study}/${name}`);
  const put = (label: string | RegExp, text: string) => page.getByLabel(label).fill(text);

  beforeAll(async () => {
    parent = await mkdtemp(join(tmpdir(), 'retentate-own-'));
    [browser] = await Promise.all([openBrowser(browserPath!), buildScreens()]);
    opened = await openLaboratory(join(parent, 'laboratory'));
    const context = await browser.newContext({ viewport, reducedMotion: 'reduce' });
    page = await context.newPage();
    page.on('pageerror', (error) => faults.push(error.message));
  }, 300_000);
  afterAll(async () => {
    await browser?.close();
    await opened?.close();
    await rm(parent, { recursive: true, force: true });
  });

  it('begins with the question, the specimen and the procedure', async () => {
    await page.goto(opened.address);
    await page.getByRole('link', { name: 'Begin a study' }).click();
    await button('Only the question').click();
    await put('Product', 'Chopping board of polyethylene, worn');
    await put('What is done to it', 'One hundred cuts of carrot on it');
    await put('Pieces from', '100');
    await put('Name of the study', 'Our boards');
    await button('Begin the study').click();
    await page.waitForURL(/\/studies\/[0-9a-f-]+\/question/);
    study = (await asked<StudiesAnswer>('/api/studies')).studies[0]!.id;

    if (!(await page.getByRole('form', { name: /specimen/i }).isVisible()))
      await button(/Add a specimen/)
        .first()
        .click();
    await page.getByRole('form').getByLabel('Name', { exact: true }).fill('Worn board');
    await page.getByRole('form').getByRole('button').first().click();
    await soon(
      async () => (await asked<{ specimens: unknown[] }>(`/api/studies/${study}/specimens`)).specimens.length,
    ).toBe(1);

    await place('procedure');
    await button(/Write a procedure/)
      .first()
      .click();
    await page.getByLabel('Name', { exact: true }).fill('Cut and filter');
    for (const kind of ['cut', 'filter']) await page.getByLabel('Put in a step').selectOption(kind);
    await button('Keep the procedure').click();
    await soon(
      async () =>
        (await asked<{ procedures: unknown[] }>(`/api/studies/${study}/procedures`)).procedures.length,
    ).toBe(1);
  }, 200_000);

  it('enters runs with their masses, controls, and draws their order', async () => {
    await place('runs');
    await button('Add runs').click();
    await put('Names', 'Run 1, Run 2, Run 3');
    await put('Masses', '50,2; 49.8');
    await page.getByLabel('Mass of').selectOption('food-or-liquid');
    await button('Add them').click();
    expect(await page.getByRole('alert').textContent()).toContain('3 numbers above 0');
    await put('Masses', '50,2; 49.8; 50.1');
    await button('Add them').click();
    await page.locator('form.sheet').waitFor({ state: 'detached' });
    await button('Add runs').click();
    await page.getByLabel('Kind').selectOption('act-control');
    await put('Names', Object.keys(PIECES).slice(3).join(', '));
    await button('Add them').click();
    await page.locator('form.sheet').waitFor({ state: 'detached' });
    expect(await page.locator('.run-card').count()).toBe(8);
    const entered = await page.locator('.run-card h3').allTextContents();
    await button('Draw the order').click();
    await put('Seed', '2026');
    await button('Draw it').click();
    await soon(async () => (await page.locator('.run-card h3').allTextContents()).join()).not.toBe(
      entered.join(),
    );
    expect(await page.locator('main').textContent()).toContain('Drawn by chance from seed 2026');
    expect(await faultsOf(page)).toEqual([]);
  }, 200_000);

  it('lays a filter for each run and brings in its photograph with its place', async () => {
    for (const [at, [run, pieces]] of Object.entries(PIECES).entries()) {
      await place('filters');
      await button('Lay a filter').click();
      await page.getByLabel('Run', { exact: true }).selectOption({ label: run });
      if (at === 0) {
        await put('Pore', '10');
        await put('Diameter of the disc', '12,5');
        await put('Printed squares', '3.1');
        await put('Lot', 'F-26');
      }
      await button('Lay it').click();
      await page.getByRole('heading', { name: `Filter ${run}`, level: 1 }).waitFor();
      await page
        .locator('input[type=file]:not([webkitdirectory])')
        .setInputFiles([
          { name: `${run}.jpg`, mimeType: 'image/jpeg', buffer: await plainFilter(pieces, at + 3) },
        ]);
      await page.getByLabel(`${run}.jpg shows`).selectOption('whole');
    }
    await soon(async () => {
      const { filters } = await asked<FiltersAnswer>(`/api/studies/${study}/filters`);
      return filters.map((filter) => filter.photos.map((photo) => photo.state).join()).join();
    }).toBe(
      Object.keys(PIECES)
        .map(() => 'searched')
        .join(),
    );
    const { filters } = await asked<FiltersAnswer>(`/api/studies/${study}/filters`);
    for (const filter of filters) {
      expect(filter.count.state === 'counted' ? filter.count.count : null, filter.name).toBe(
        PIECES[filter.run.name],
      );
    }
    await page.locator('.photo-card.is-searched').waitFor();
    await picture(page, `own-filter-${size}`);
    expect(await faultsOf(page)).toEqual([]);
  }, 400_000);

  it('reaches a claim, and the page says the same sentence as the laboratory', async () => {
    const { claim } = await asked<StandingJson>(`/api/studies/${study}/standing`);
    expect(claim.state).toBe('detected-not-quantified');
    await place('');
    await soon(async () =>
      ((await page.locator('.claim-sentence').textContent()) ?? '').replaceAll('\u00a0', ' '),
    ).toBe(claim.sentence);
    await picture(page, `own-claim-${size}`);
    expect(faults).toEqual([]);
  }, 200_000);
});
