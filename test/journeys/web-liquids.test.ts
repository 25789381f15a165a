/** The liquids page in a real browser at both sizes: four questions answered in the page, without faults of accessibility. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
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

const executable = foundBrowser();
if (executable === null) console.log('skipped: no Chromium here to look at the liquids page with');

describe.skipIf(executable === null)('the liquids page', () => {
  const parent = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-liquids-'));
  let laboratory: Opened;
  let browser: Browser;

  beforeAll(async () => {
    await buildScreens();
    laboratory = await openLaboratory(path.join(parent, 'laboratory'));
    browser = await openBrowser(executable!);
  });
  afterAll(async () => {
    await browser?.close();
    await laboratory?.close();
    fs.rmSync(parent, { recursive: true, force: true });
  });

  const at = async (size: { width: number; height: number }, table: string): Promise<Page> => {
    const page = await (await browser.newContext({ viewport: size, reducedMotion: 'reduce' })).newPage();
    await page.goto(`${laboratory.address}/liquids/${table}`);
    await page.getByRole('heading', { level: 1, name: 'Liquids' }).waitFor();
    return page;
  };

  describe.each([
    { width: 1440, height: 900 },
    { width: 390, height: 844 },
  ])('at $width × $height', (size) => {
    it('forecasts a filtration, narrows with a mark, and says which mark is wrong', async () => {
      const page = await at(size, 'filter');
      const answer = page.locator('.answer');
      expect(await answer.textContent()).toMatch(/^This filter takes about .*mL/);
      const marks = page.getByLabel('Timed volumes');
      await marks.fill('time_s, volume_ml\n30, 5\n75, 10');
      expect(await page.getByText('any law goes through so few').isVisible()).toBe(true);
      await marks.fill('time_s, volume_ml\n30, 5\n75, 10\n60, 15');
      expect(await page.getByText('Mark 3: the time goes back').isVisible()).toBe(true);
      await marks.fill('time_s, volume_ml\n30, 5\n75, 10\n140, 15\n230, 20');
      expect(await answer.isVisible()).toBe(true);
      expect(await faultsOf(page)).toEqual([]);
      await page.context().close();
    });

    it('maps settling, and refuses boiling water', async () => {
      const page = await at(size, 'settle');
      expect(await page.locator('.map svg desc').textContent()).toContain('PET: 5 µm still in between');
      await page.getByLabel('Temperature').fill('300');
      expect(await page.getByText('Water is liquid from 0 to 100 °C.').isVisible()).toBe(true);
      await page.getByLabel('Temperature').fill('20');
      await page.getByLabel('Standing still for').fill('0');
      expect(await page.getByText('Nothing has reached the bottom yet.').isVisible()).toBe(true);
      expect(await faultsOf(page)).toEqual([]);
      await page.context().close();
    });

    it('gives a recipe and what is undecided', async () => {
      const page = await at(size, 'float');
      await page.getByLabel('Density at 20 °C').fill('1.195');
      expect(await page.getByText(/^Undecided: .*PMMA/).isVisible()).toBe(true);
      await page.getByLabel('Density at 20 °C').fill('1.5');
      expect(await page.getByText('table salt does not give 1.5 g/mL').isVisible()).toBe(true);
      expect(await faultsOf(page)).toEqual([]);
      await page.context().close();
    });

    it('keeps what harms the suspect shut, and data sheets first', async () => {
      const page = await at(size, 'digest');
      await page.getByLabel('What is to be taken away').selectOption('saliva');
      await page.getByLabel('Where').selectOption('laboratory');
      await page.getByLabel('polylactide and other biodegradables').check();
      expect(await page.getByText('harms the suspect').isVisible()).toBe(true);
      expect(await page.getByText('Safety data sheets, local rules').isVisible()).toBe(true);
      expect(await faultsOf(page)).toEqual([]);
      await page.context().close();
    });
  });
});
