/** A laboratory of nine counted runs, served and open in a browser of the wished size. */
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import sharp from 'sharp';
import { servedLaboratory } from './served-laboratory.ts';
import { buildScreens, openBrowser, type Size } from './web-laboratory.ts';

export const SCREENS = fileURLToPath(new URL('../../dist/web', import.meta.url));

/** A bare membrane; its name tells the pretended finder how many pieces lie there. */
export const photograph = (seed: number): Promise<Uint8Array> =>
  sharp({ create: { width: 900, height: 640, channels: 3, background: { r: 220, g: 220 - seed, b: 216 } } })
    .jpeg()
    .toBuffer();

export interface CountedLaboratory {
  readonly lab: Awaited<ReturnType<typeof servedLaboratory>>;
  readonly page: Page;
  /** What the page has thrown. */
  readonly faults: string[];
  close(): Promise<void>;
}

export async function countedLaboratory(
  browserPath: string,
  viewport: Size['viewport'],
): Promise<CountedLaboratory> {
  await buildScreens();
  const lab = await servedLaboratory(SCREENS);
  const browser = await openBrowser(browserPath);
  for (const [at, pieces] of [14, 12, 3, 2, 2].entries()) {
    const { json } = await lab.put(lab.filters[at]!.id, `${pieces} pieces.jpg`, await photograph(at));
    await lab.searched(json.photo.id);
  }
  await lab.addRuns({ S3: 13, S4: 12, C3: 3, C4: 2 }, (at) => photograph(20 + at));
  const page = await (await browser.newContext({ viewport })).newPage();
  page.setDefaultTimeout(60_000);
  const faults: string[] = [];
  page.on('pageerror', (error) => faults.push(error.message));
  return {
    lab,
    page,
    faults,
    async close() {
      await browser.close();
      await lab.close();
    },
  };
}
