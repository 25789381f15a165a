/**
 * How smoothly a whole filter is looked at: 10,000 outlines on a 20,000 × 20,000 pixel photograph, panned and zoomed in a
 * Chromium without a graphics card. The yardstick is the same photograph without outlines, in the same run.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { extname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Browser, chromium, type Route } from 'playwright-core';
import sharp from 'sharp';
import { foundBrowser } from '../test/journeys/web-laboratory.ts';

const SCREENS = fileURLToPath(new URL('../dist/web', import.meta.url));
const SITE = 'http://bench.invalid';
const SIDE = 20_000;
const TILE = 512;
const ADDRESS = '/studies/s/filters/f/photos/p';
const MEDIA: Readonly<Record<string, string>> = {
  '.html': 'text/html',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.svg': 'image/svg+xml',
  '.woff2': 'font/woff2',
};

/** Outlines of 24 corners on a lattice with some scatter; the same for every run. */
function particles(many: number): object[] {
  const across = Math.ceil(Math.sqrt(many));
  return Array.from({ length: many }, (_, k) => {
    const x = ((k % across) + 0.5) * (SIDE / across) + ((k * 7919) % 40);
    const y = (Math.floor(k / across) + 0.5) * (SIDE / across) + ((k * 104_729) % 40);
    const r = 10 + (k % 30);
    const corner = (i: number) => {
      const wide = r * (1 + 0.25 * Math.sin(i * 3 + k));
      return [x + wide * Math.cos((i * Math.PI) / 12), y + wide * Math.sin((i * Math.PI) / 12)];
    };
    return {
      id: `p${k}`,
      number: k + 1,
      outline_px: Array.from({ length: 24 }, (_, i) => corner(i)),
      centroid_px: [x, y],
      area_px2: Math.PI * r * r,
      feret_max_px: 2 * r,
      feret_min_px: 1.6 * r,
      area_um2: Math.PI * r * r,
      feret_max_um: 2 * r,
      feret_min_um: 1.6 * r,
      fibre_length_um: null,
      shape: 'fragment',
      shape_because: 'made for the measurement',
      colour: 'blue',
      lab: [60, 0, -20],
      square: null,
      certainty: 0.9,
      decision: (['kept', 'dropped', 'undecided'] as const)[k % 3],
      counts_on: null,
      counts: true,
      disagree: [],
    };
  });
}

const FILTERS = {
  filters: [
    {
      id: 'f',
      name: 'filter',
      run: { id: 'r', name: 'run', kind: 'specimen-run' },
      material: '',
      pore_um: null,
      effective_diameter_mm: 40,
      pitch_mm: 3.1,
      lot: null,
      examined: 1,
      count: { state: 'counted', count: 0, undecided: 0 },
      photos: [
        {
          id: 'p',
          filter: 'f',
          name: 'whole filter.tif',
          width_px: SIDE,
          height_px: SIDE,
          state: 'searched',
          refusal: null,
          warnings: [],
          scale: { um_per_px: 1, relative_uncertainty: 0.001 },
          floor_um: 10,
          tiles: { width_px: SIDE, height_px: SIDE, tile_px: TILE, levels: 7 },
        },
      ],
    },
  ],
};

function answering(many: number, tile: Buffer): (route: Route) => Promise<void> {
  const pieces = JSON.stringify({ photo: 'p', particles: particles(many) });
  return (route) => {
    const path = new URL(route.request().url()).pathname;
    const json = (body: string) => route.fulfill({ contentType: 'application/json', body });
    if (path === '/api/studies/s/filters') return json(JSON.stringify(FILTERS));
    if (path === '/api/photos/p/particles') return json(pieces);
    if (path.includes('/tiles/')) return route.fulfill({ contentType: 'image/jpeg', body: tile });
    if (path.startsWith('/api/')) {
      return route.fulfill({
        status: 404,
        contentType: 'application/json',
        body: '{"refusal":{"why":"none","message":"none"}}',
      });
    }
    const file = join(SCREENS, path);
    const asset = extname(path) !== '' && existsSync(file);
    return route.fulfill({
      contentType: MEDIA[asset ? extname(path) : '.html'] ?? 'application/octet-stream',
      body: readFileSync(asset ? file : join(SCREENS, 'index.html')),
    });
  };
}

interface Frames {
  readonly middleMs: number;
  readonly p95Ms: number;
  readonly heapMb: number;
}

/** Frames while the picture is dragged about and zoomed for some seconds. */
async function frames(browser: Browser, many: number, tile: Buffer): Promise<Frames> {
  const context = await browser.newContext({ viewport: { width: 1400, height: 900 } });
  const page = await context.newPage();
  await page.route(`${SITE}/**`, answering(many, tile));
  await page.goto(SITE + ADDRESS);
  await page.locator('.viewer canvas').first().waitFor();
  if (many > 0) await page.locator('.strip-particle').first().waitFor();
  await page.waitForTimeout(1500);
  const box = (await page.locator('.viewer').boundingBox())!;
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  // As text: functions that are compiled here carry names of the compiler into the page.
  await page.evaluate(`
    window.frames_at = [];
    const tick = (now) => { window.frames_at.push(now); requestAnimationFrame(tick); };
    requestAnimationFrame(tick);
  `);
  for (let round = 0; round < 4; round++) {
    await page.mouse.move(x, y);
    for (let k = 0; k < 3; k++) await page.mouse.wheel(0, round % 2 === 0 ? -240 : 240);
    await page.mouse.down();
    for (let k = 0; k < 40; k++) {
      await page.mouse.move(x + 160 * Math.sin(k / 6), y + 120 * Math.cos(k / 5));
      await page.waitForTimeout(12);
    }
    await page.mouse.up();
  }
  const { at, heap } = await page.evaluate<{ at: number[]; heap: number }>(
    '({ at: window.frames_at, heap: performance.memory?.usedJSHeapSize ?? 0 })',
  );
  await context.close();
  const steps = at.slice(1).map((now, k) => now - at[k]!);
  steps.sort((a, b) => a - b);
  const share = (q: number) => steps[Math.min(steps.length - 1, Math.floor(q * steps.length))]!;
  return { middleMs: share(0.5), p95Ms: share(0.95), heapMb: heap / 1e6 };
}

export async function benchLooking(print: (line: string) => void): Promise<void> {
  const path = foundBrowser();
  if (path === null || !existsSync(SCREENS) || readdirSync(SCREENS).length === 0) {
    print('looking: skipped; a Chromium (CHROME_PATH) and built screens (npm run build) are needed.');
    return;
  }
  const noise = { type: 'gaussian', mean: 220, sigma: 8 } as const;
  const tile = await sharp({ create: { width: TILE, height: TILE, channels: 3, background: '#ddd', noise } })
    .jpeg()
    .toBuffer();
  const browser = await chromium.launch({
    executablePath: path,
    args: ['--headless', '--no-sandbox', '--disable-gpu', '--enable-precise-memory-info'],
  });
  try {
    const bare = await frames(browser, 0, tile);
    print(
      `looking, no outline: frame ${bare.middleMs.toFixed(1)} ms, 95th percentile ${bare.p95Ms.toFixed(1)} ms`,
    );
    for (const many of [1_000, 10_000]) {
      const own = await frames(browser, many, tile);
      print(
        `looking, ${many} outlines on ${(SIDE * SIDE) / 1e6} megapixels: frame ${own.middleMs.toFixed(1)} ms, 95th percentile ` +
          `${own.p95Ms.toFixed(1)} ms (${(own.p95Ms / bare.p95Ms).toFixed(2)} × without outlines; goal 25 ms), page ${own.heapMb.toFixed(0)} MB`,
      );
    }
  } finally {
    await browser.close();
  }
}
