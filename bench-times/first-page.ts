/**
 * What the first page costs: time from the address to a page that can be used, in a browser that has never seen it, and the
 * script that comes with it. The yardstick is the same page asked for again in the same browser.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { foundBrowser, openBrowser } from '../test/journeys/web-laboratory.ts';

export const SCREENS = fileURLToPath(new URL('../dist/web', import.meta.url));

/** Script of the first page and of all pages, compressed, in kB. */
function scriptKb(): { readonly first: number; readonly all: number } {
  const html = readFileSync(join(SCREENS, 'index.html'), 'utf8');
  const first = [...html.matchAll(/(?:src|href)="\/assets\/([^"]+\.js)"/g)].map((match) => match[1]!);
  const sizeOf = (name: string) => gzipSync(readFileSync(join(SCREENS, 'assets', name))).length;
  const sum = (names: readonly string[]) => names.reduce((bytes, name) => bytes + sizeOf(name), 0) / 1000;
  return {
    first: sum(first),
    all: sum(readdirSync(join(SCREENS, 'assets')).filter((name) => name.endsWith('.js'))),
  };
}

const middle = (times: readonly number[]): number => [...times].sort((a, b) => a - b)[times.length >> 1]!;

/** `places`: what each page is called, and its address on a laboratory that is served now. */
export async function benchFirstPage(
  print: (line: string) => void,
  site: string,
  places: readonly (readonly [name: string, path: string])[],
): Promise<void> {
  const { first, all } = scriptKb();
  print(
    `first page: ${first.toFixed(0)} kB of script, compressed (goal 250 kB); all pages ${all.toFixed(0)} kB`,
  );
  const path = foundBrowser();
  if (path === null) {
    print('first page: not timed; a Chromium (CHROME_PATH) is needed.');
    return;
  }
  const browser = await openBrowser(path);
  try {
    for (const [name, address] of places) {
      const cold: number[] = [];
      const again: number[] = [];
      for (let k = 0; k < 5; k++) {
        // A context of its own has an empty cache.
        const page = await (await browser.newContext({ viewport: { width: 1440, height: 900 } })).newPage();
        const open = async (): Promise<number> => {
          const from = performance.now();
          await page.goto(site + address, { waitUntil: 'commit' });
          await page.locator('main h1').first().waitFor();
          return performance.now() - from;
        };
        cold.push(await open());
        again.push(await open());
        await page.context().close();
      }
      print(
        `first page, ${name}: usable after ${middle(cold).toFixed(0)} ms in a cold browser, ` +
          `${(middle(cold) / middle(again)).toFixed(1)} × that of a warm one (goal 1500 ms)`,
      );
    }
  } finally {
    await browser.close();
  }
}
