/** A study leaves one laboratory by its page and enters another by that one’s page: the same claim, originals to the byte. */
import { createHash } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { FiltersAnswer, PublishedAnswer, StandingJson } from '../../src/api/index.ts';
import { drawn } from './broken-photos.ts';
import { servedLaboratory } from './served-laboratory.ts';
import { buildScreens, faultsOf, foundBrowser, openBrowser, picture, SIZES } from './web-laboratory.ts';

const SCREENS = fileURLToPath(new URL('../../dist/web', import.meta.url));
const browserPath = foundBrowser();
if (browserPath === null)
  process.stdout.write('journey of packing skipped: no Chromium found; set CHROME_PATH to one.\n');

type Lab = Awaited<ReturnType<typeof servedLaboratory>>;
const asked = async <T>(lab: Lab, path: string): Promise<T> => (await lab.ask('GET', path)).json as T;

/** SHA-256 of every original of a study, as its laboratory gives it out. */
async function originals(lab: Lab, study: string): Promise<string[]> {
  const { filters } = await asked<FiltersAnswer>(lab, `/api/studies/${study}/filters`);
  const hashes: string[] = [];
  for (const { id } of filters.flatMap(({ photos }) => photos)) {
    const bytes = await (await fetch(`${lab.address}/api/photos/${id}/original`)).arrayBuffer();
    hashes.push(createHash('sha256').update(Buffer.from(bytes)).digest('hex'));
  }
  return hashes.sort();
}

const atBothSizes = describe.skipIf(browserPath === null).each(SIZES);

atBothSizes('packed here, unpacked there, $size', ({ size, viewport }) => {
  let home: Lab;
  let away: Lab;
  let browser: Browser;
  let page: Page;
  let folder: string;
  let archive: string;
  const faults: string[] = [];

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'retentate-journey-'));
    archive = join(folder, 'study.zip');
    await buildScreens();
    [home, away, browser] = await Promise.all([
      servedLaboratory(SCREENS),
      servedLaboratory(SCREENS),
      openBrowser(browserPath!),
    ]);
    page = await (await browser.newContext({ viewport })).newPage();
    page.on('pageerror', (error) => faults.push(error.message));
    for (const [at, pieces] of [14, 12, 2, 1, 0].entries()) {
      const bytes = await drawn(900 + at, 640)
        .jpeg()
        .toBuffer();
      const { json } = await home.put(home.filters[at]!.id, `${pieces} pieces.jpg`, bytes);
      await home.searched(json.photo.id);
    }
    await home.addRuns({ S3: 13, C3: 1, C4: 0, C5: 2 }, (at) =>
      drawn(950 + at, 640)
        .jpeg()
        .toBuffer(),
    );
  });
  afterAll(async () => {
    await browser?.close();
    await home?.close();
    await away?.close();
    await rm(folder, { recursive: true, force: true });
  });

  it('is held against a published value, after ten questions; taken back, and put back', async () => {
    const study = home.study.id;
    await page.goto(`${home.address}/studies/${study}/claim`);
    await page.getByRole('button', { name: 'Enter a published value' }).click();
    const form = page.getByRole('form', { name: 'A published value' });
    await form.getByLabel('Where it was published').fill('Invented & Co. 2020, Table 2');
    await form.getByLabel('Published value').fill('0,8');
    await form.getByLabel('Sizes from').fill('50');
    await form.getByRole('button', { name: 'Compare' }).click();
    await form.getByText('Nothing is compared before every question has an answer; 10 are open').waitFor();
    for (const group of await form
      .getByRole('group', { name: /:|Which|Background|Corrected|Digestion|product/ })
      .all()) {
      const same = group.getByLabel('same', { exact: true });
      if ((await same.count()) === 1) await same.check();
    }
    await picture(page, `published-questions-${size}`);
    expect(await faultsOf(page)).toEqual([]);
    await form.getByRole('button', { name: 'Compare' }).click();
    await form.waitFor({ state: 'detached' });
    const value = async () =>
      (await asked<PublishedAnswer>(home, `/api/studies/${study}/published`)).values[0]!;
    const { sentence, verdict } = await value();
    expect(verdict).toBe('comparable');
    const one = page.locator('.published-one');
    await expect
      .poll(async () =>
        ((await one.locator('.published-says').textContent()) ?? '').replaceAll('\u00a0', ' '),
      )
      .toBe(sentence);
    await one.scrollIntoViewIfNeeded();
    await picture(page, `published-${size}`);
    expect(await faultsOf(page)).toEqual([]);
    await page.getByRole('button', { name: /^Take back: Invented/ }).click();
    await one.waitFor({ state: 'detached' });
    await page.getByText('Taken back: 1').click();
    await page.getByRole('button', { name: /^Put back: Invented/ }).click();
    await one.waitFor();
    expect(await value()).toMatchObject({ stands: true, editions: 3, sentence });
  });

  it('leaves as one archive from the place of the claim', async () => {
    await page.goto(`${home.address}/studies/${home.study.id}/claim`);
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('link', { name: 'Pack the study (zip)' }).click(),
    ]);
    expect(download.suggestedFilename()).toMatch(/\.zip$/);
    await download.saveAs(archive);
  });

  it('enters another laboratory by its first page, under another name where its own is taken', async () => {
    await page.goto(away.address);
    // A laboratory with one study opens on it; the mark leads to all of them.
    await page.locator('.claim-sentence').waitFor();
    await page.getByRole('link', { name: 'Retentate: all studies' }).click();
    const bring = page.getByRole('region', { name: 'Bring a study in' });
    await bring.locator('input[type=file]').setInputFiles(archive);
    await bring.getByRole('alert').waitFor();
    expect(await bring.getByRole('alert').textContent()).toMatch(/Boards/);
    await bring.getByLabel('Its name here').fill('Boards from elsewhere');
    await bring.getByRole('button', { name: 'Bring it in under this name' }).click();
    await bring.getByRole('status').waitFor();
    expect(await bring.getByRole('status').textContent()).toContain(
      'the claim is the one that was packed, digit for digit',
    );
    await picture(page, `brought-in-${size}`);
    expect(await faultsOf(page)).toEqual([]);
    await bring.getByRole('link', { name: 'Boards from elsewhere' }).click();
    await page.locator('.claim-sentence').waitFor();
  });

  it('says the same there, of the same bytes', async () => {
    const study = home.study.id;
    const standing = (lab: Lab) => asked<StandingJson>(lab, `/api/studies/${study}/standing`);
    const [here, there] = [await standing(home), await standing(away)];
    expect(there.claim).toEqual(here.claim);
    expect(there.points).toEqual(here.points);
    const published = (lab: Lab) => asked<PublishedAnswer>(lab, `/api/studies/${study}/published`);
    expect(await published(away)).toEqual(await published(home));
    const bytes = await originals(home, study);
    expect(bytes).toHaveLength(9);
    expect(await originals(away, study)).toEqual(bytes);
    expect(faults).toEqual([]);
  });
});
