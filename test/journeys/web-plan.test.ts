/** An empty laboratory in a browser: a study planned from ten questions, its specimen weighed, its procedure changed. */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  buildScreens,
  faultsOf,
  foundBrowser,
  type Opened,
  openBrowser,
  openLaboratory,
} from './web-laboratory.ts';

const browserPath = foundBrowser();
if (browserPath === null) {
  process.stdout.write('planning journey skipped: no Chromium found; set CHROME_PATH to one.\n');
}

describe.skipIf(browserPath === null)('an empty laboratory in a browser', () => {
  let browser: Browser;
  let opened: Opened;
  let parent: string;
  let page: Page;
  const asked = async (path: string) => (await fetch(opened.address + path)).json();

  beforeAll(async () => {
    parent = await mkdtemp(join(tmpdir(), 'retentate-plan-'));
    [browser] = await Promise.all([openBrowser(browserPath!), buildScreens()]);
    opened = await openLaboratory(join(parent, 'lab'));
    const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
    page = await context.newPage();
  }, 300_000);
  afterAll(async () => {
    await browser?.close();
    await opened?.close();
    await rm(parent, { recursive: true, force: true });
  });

  it('plans a study from ten questions and makes it, on a telephone', async () => {
    await page.goto(opened.address);
    await page.getByRole('link', { name: 'Begin a study' }).click();
    await page.getByLabel('Product').fill('chopping board of polyethylene');
    await page.getByLabel('It will').selectOption('cut');
    await page.getByLabel('It is', { exact: true }).selectOption('plant');
    await page.getByLabel('Food in one run').fill('100');
    await page.getByLabel('Mass of a portion').fill('100');
    await page.getByRole('heading', { name: 'The runs, in their order' }).waitFor();
    await page.getByText('would be seen four times in five').waitFor();
    await page.getByRole('button', { name: 'Specimen runs: have it otherwise' }).click();
    await page.getByRole('textbox', { name: 'Specimen runs' }).fill('5');
    expect(await faultsOf(page)).toEqual([]);
    await page.getByLabel('Name of the study').fill('Boards');
    await page.getByRole('button', { name: 'Make this study' }).click();
    await page.getByRole('heading', { name: 'Still to do, as planned' }).waitFor();
    const { studies } = await asked('/api/studies');
    const plan = await asked(`/api/studies/${studies[0].id}/plan`);
    expect(plan.runs.filter((run: { kind: string }) => run.kind === 'specimen')).toHaveLength(5);
    await page.getByRole('button', { name: /^run-1/ }).click();
    await page.getByRole('textbox', { name: 'Mass of the portion' }).fill('100,2');
    await page.getByLabel('Which mass').selectOption('food-or-liquid');
    await page.getByRole('button', { name: 'Record the run' }).click();
    await page.getByRole('button', { name: /^run-1/ }).waitFor({ state: 'detached' });
    const { runs } = await asked(`/api/studies/${studies[0].id}/runs`);
    expect(runs[0]).toMatchObject({ name: 'run-1', portion: { mass_g: 100.2 } });
  }, 120_000);

  it('adds a person, a portion, and an edition that says what it changed', async () => {
    const { id } = (await asked('/api/studies')).studies[0];
    await page.goto(`${opened.address}/studies/${id}/question`);
    await page.getByLabel('Working').selectOption('new');
    await page.getByLabel('Name', { exact: true }).fill('Ada Example');
    await page.getByRole('button', { name: 'Add', exact: true }).click();
    await page.getByRole('button', { name: /Weigh a portion/ }).click();
    await page.getByRole('textbox', { name: 'Mass' }).fill('99,5');
    await page.getByRole('button', { name: 'Keep the portion' }).click();
    await page.getByText('99.5 g').waitFor();
    expect(await faultsOf(page)).toEqual([]);

    await page.goto(`${opened.address}/studies/${id}/procedure`);
    await page.locator('.procedure > summary').first().click();
    await page.getByRole('button', { name: 'Change it: a new edition' }).first().click();
    await page.getByRole('button', { name: /Rinse “rinse-before”/ }).click();
    await page.getByRole('textbox', { name: 'How many times' }).fill('2');
    await page.getByRole('button', { name: 'Keep as edition 2' }).click();
    await page.getByText('Say why it is changed').waitFor();
    await page.getByLabel('Why it is changed').fill('Two rinses are enough.');
    expect(await faultsOf(page)).toEqual([]);
    await page.getByRole('button', { name: 'Keep as edition 2' }).click();
    await page.locator('.procedure > summary').first().click();
    await page.getByText('Step “rinse-before”: how many times twice instead of 3 times.').waitFor();
    const { procedures } = await asked(`/api/studies/${id}/procedures`);
    const changed = procedures.find((one: { editions: unknown[] }) => one.editions.length === 2);
    expect(changed.editions[1]).toMatchObject({ because: 'Two rinses are enough.', by: 'Ada Example' });
  }, 120_000);

  it('has a procedure place without faults of accessibility, light and dark', async () => {
    const { id } = (await asked('/api/studies')).studies[0];
    await page.goto(`${opened.address}/studies/${id}/procedure`);
    await page.getByRole('heading', { name: 'What a reader will ask for' }).waitFor();
    expect(await faultsOf(page)).toEqual([]);
    await page.getByRole('button', { name: 'Dark page' }).click();
    expect(await faultsOf(page)).toEqual([]);
  }, 120_000);
});
