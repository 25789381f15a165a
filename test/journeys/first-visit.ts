/** The first steps of the example, walked as a newcomer: from the page that opens to the claim and its report. */
import { readFile } from 'node:fs/promises';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { picture, type Size } from './web-laboratory.ts';

/** Begins on the first page and ends in the claim; gives the text of the report that was saved there. */
export async function firstVisit(page: Page, size: Size['size']): Promise<string> {
  const steps = page.getByRole('region', { name: 'First steps' });
  const here = (heading: string) => page.getByRole('heading', { name: heading, level: 1 }).waitFor();
  const back = async () => {
    await page
      .getByRole('link', { name: /Where it stands/ })
      .filter({ visible: true })
      .first()
      .click();
    await steps.waitFor();
  };
  await steps.waitFor();
  await picture(page, `first-page-${size}`);
  await steps.getByRole('link', { name: 'Look at a photograph and drop a piece' }).click();
  await page.locator('.strip-particle').first().waitFor();
  await page.keyboard.press('ArrowRight');
  await picture(page, `first-look-${size}`);
  await back();
  expect(await steps.locator('.is-done').count()).toBe(1);
  for (const [step, heading] of [
    ['Find the runs whose controls no longer match', 'Procedure'],
    ['See how it is known what a piece is', 'Evidence'],
  ] as const) {
    await steps.getByRole('link', { name: step }).click();
    await here(heading);
    await back();
  }
  await steps.getByRole('link', { name: 'Open what the claim rests on, and take the report' }).click();
  await here('Claim');
  await expect.poll(() => page.locator('.waiting').count(), { timeout: 60_000 }).toBe(0);
  await picture(page, `first-claim-${size}`);
  const [report] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('link', { name: 'Save the report (HTML)' }).click(),
  ]);
  return readFile(await report.path(), 'utf8');
}
