/** A run, a portion and a procedure withdrawn on their pages with a reason, seen in the claim and the report, put back. */
import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { type CountedLaboratory, countedLaboratory } from './counted-laboratory.ts';
import { faultsOf, foundBrowser, picture, SIZES } from './web-laboratory.ts';

const browserPath = foundBrowser();
if (browserPath === null)
  process.stdout.write('journey of withdrawals skipped: no Chromium found; set CHROME_PATH to one.\n');

const soon = <T>(get: () => T | Promise<T>) => expect.poll(get, { timeout: 60_000, interval: 50 });

describe.skipIf(browserPath === null).each(SIZES)(
  'withdrawal and the way back, $size',
  ({ size, viewport }) => {
    let counted: CountedLaboratory;
    let lab: CountedLaboratory['lab'];
    let page: Page;
    const at = (place: string) => `${lab.address}/studies/${lab.study.id}/${place}`;
    const ofStudy = async (view: string) =>
      (await lab.ask('GET', `/api/studies/${lab.study.id}/${view}`)).json;
    const names = async () => (await ofStudy('runs')).runs.map(({ name }: { name: string }) => name);
    const text = async (place: string) =>
      ((await page.locator(place).first().textContent()) ?? '').replaceAll('\u00a0', ' ');

    beforeAll(async () => {
      counted = await countedLaboratory(browserPath!, viewport);
      ({ lab, page } = counted);
    });
    afterAll(() => counted?.close());
    afterEach(() => expect(counted.faults.splice(0)).toEqual([]));

    it('takes a counted run out of every figure only with a reason, and by the keyboard alone', async () => {
      const before = (await ofStudy('standing')).claim;
      const run = (await ofStudy('runs')).runs.find(({ name }: { name: string }) => name === 'S2');
      await page.goto(at(`runs/${run.id}`));
      const deed = page.getByRole('button', { name: /^Withdraw/ });
      await deed.focus();
      await page.keyboard.press('Enter');
      await page.getByText('What it counts can be read already').waitFor();
      expect(await faultsOf(page)).toEqual([]);
      await picture(page, `withdraw-${size}`);
      await page.getByRole('button', { name: 'Withdraw it' }).click();
      await page.getByRole('alert').waitFor();
      expect(await names()).toContain('S2');
      await page.getByLabel('What went wrong').focus();
      await page.keyboard.type('the beaker broke');
      await page.keyboard.press('Enter');
      await page.getByRole('heading', { name: 'Withdrawn' }).waitFor();
      await page.getByText('“the beaker broke”').waitFor();
      expect(await names()).not.toContain('S2');
      const after = (await ofStudy('standing')).claim;
      expect(after.net_per_gram).not.toEqual(before.net_per_gram);

      await page.goto(at('claim'));
      await page.locator('.claim-withdrawn').waitFor();
      expect(await text('.claim-withdrawn')).toBe(
        '1 run withdrawn and in no figure here, after its count could be read. Which, and why',
      );
      await page.getByText('S2 (“the beaker broke”, after its count could be read)').first().waitFor();
      expect(await faultsOf(page)).toEqual([]);
      await picture(page, `claim-withdrawn-${size}`);

      await page.locator('.claim-withdrawn a').click();
      const back = page.getByRole('button', { name: 'Put back S2' });
      await back.waitFor();
      expect(await faultsOf(page)).toEqual([]);
      await back.scrollIntoViewIfNeeded();
      await picture(page, `withdrawn-${size}`);
      await back.click();
      await back.waitFor({ state: 'detached' });
      expect(await names()).toContain('S2');
      expect((await ofStudy('standing')).claim).toEqual(before);
    });

    it('takes the run of a portion along, from the question’s page, and brings both back', async () => {
      await page.goto(at('question'));
      await page.getByRole('button', { name: 'Withdraw portion S1' }).click();
      expect(await faultsOf(page)).toEqual([]);
      await page.getByLabel('What went wrong').fill('weighed wet');
      await page.getByRole('button', { name: 'Withdraw it' }).click();
      await page.getByText('Run S1 went along').waitFor();
      expect(await names()).not.toContain('S1');
      expect(await faultsOf(page)).toEqual([]);
      await picture(page, `portion-withdrawn-${size}`);
      await page.getByRole('button', { name: 'Put back portion S1' }).click();
      await page.getByRole('button', { name: 'Withdraw portion S1' }).waitFor();
      expect(await names()).toContain('S1');
    });

    it('keeps a procedure that counting runs follow and names them; one that none follows goes and comes back', async () => {
      const wish = {
        name: 'Written by mistake',
        because: '',
        steps: [{ key: 'rinse', kind: 'rinse', quantities: { volume_ml: 100 }, touches: {} }],
      };
      const made = await lab.ask('POST', `/api/studies/${lab.study.id}/procedures`, wish);
      expect(made.status).toBe(200);
      await page.goto(at('procedure'));
      await page.getByText('chop and filter').first().click();
      await page.getByRole('button', { name: 'Withdraw chop and filter' }).click();
      await page.getByLabel('What went wrong').fill('not this one');
      await page.getByRole('button', { name: 'Withdraw it' }).click();
      await page.getByText(/The procedure “chop and filter” stays: runs “S1”/).waitFor();
      await page.getByRole('button', { name: 'Leave it' }).click();
      await page.getByText('chop and filter').first().click();
      await page.locator('summary').filter({ hasText: 'Written by mistake' }).click();
      await page.getByRole('button', { name: 'Withdraw Written by mistake' }).click();
      await page.getByLabel('What went wrong').fill('a slip');
      await page.getByRole('button', { name: 'Withdraw it' }).click();
      const back = page.getByRole('button', { name: 'Put back Written by mistake' });
      await back.waitFor();
      const procedures = async () => (await ofStudy('procedures')).procedures.length;
      await soon(procedures).toBe(1);
      expect(await faultsOf(page)).toEqual([]);
      await picture(page, `procedure-withdrawn-${size}`);
      await back.click();
      await back.waitFor({ state: 'detached' });
      await soon(procedures).toBe(2);
    });
  },
);
