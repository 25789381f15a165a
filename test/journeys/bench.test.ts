/** A run carried out on a telephone: timers, taps at volume marks, a clogging filter, a deviation, to the claim's new state. */
import { fileURLToPath } from 'node:url';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { StandingJson } from '../../src/api/index.ts';
import { drawn } from './broken-photos.ts';
import { servedLaboratory } from './served-laboratory.ts';
import { buildScreens, faultsOf, foundBrowser, openBrowser, picture, SIZES } from './web-laboratory.ts';

const browserPath = foundBrowser();
if (browserPath === null) {
  process.stdout.write('bench journey skipped: no Chromium found; set CHROME_PATH to one.\n');
}
const soon = <T>(get: () => T | Promise<T>) => expect.poll(get, { timeout: 60_000, interval: 50 });
/** The telephone's clock stands still but for what the journey lets pass: a slow machine times nothing wrong. */
let now = Date.parse('2026-01-06T09:00:00Z');

const atBothSizes = describe.skipIf(browserPath === null).each(SIZES);

atBothSizes('a run at the bench, $size', ({ size, viewport }) => {
  let browser: Browser;
  let context: BrowserContext;
  let page: Page;
  let lab: Awaited<ReturnType<typeof servedLaboratory>>;
  let run: string;
  const faults: string[] = [];

  const pass = async (seconds: number) => {
    now += Math.round(1000 * seconds);
    await context.clock.setFixedTime(now);
  };
  const standing = async (): Promise<StandingJson> =>
    (await lab.ask('GET', `/api/studies/${lab.study.id}/standing`)).json;
  const bench = async () =>
    (await lab.ask('GET', `/api/studies/${lab.study.id}/bench`)).json.runs.find(
      (one: { run: string }) => one.run === run,
    );
  const button = (name: string | RegExp) =>
    page.getByRole('button', { name, exact: typeof name === 'string' });
  const sheetOf = () => `${lab.address}/studies/${lab.study.id}/runs/${run}/bench`;
  beforeAll(async () => {
    [browser] = await Promise.all([openBrowser(browserPath!), buildScreens()]);
    lab = await servedLaboratory(fileURLToPath(new URL('../../dist/web', import.meta.url)), () => [
      // This machine's own address stands in for one of the room.
      { name: 'room', address: '127.0.0.1' },
    ]);
    const counts = [30, 26, 1, 2, 0];
    for (const [at, count] of counts.entries()) {
      const bytes = await drawn(1800 + at, 1400)
        .jpeg()
        .toBuffer();
      const { json } = await lab.put(lab.filters[at]!.id, `${count} pieces.jpg`, bytes);
      await lab.searched(json.photo.id);
    }
    const added = await lab.ask('POST', `/api/studies/${lab.study.id}/runs`, {
      runs: [
        {
          name: 'Run 3',
          kind: 'specimen-run',
          edition: lab.edition.id,
          on: '2026-01-06',
          weighed: { specimen: lab.specimen.id, mass_g: 50, mass_is: 'food-or-liquid' },
        },
      ],
    });
    run = added.json.runs[0].id;
    // Three runs beside five controls are the fewest that relabelling tells apart, two-sided at 95 %: 1 in 56.
    await lab.addRuns({ C3: 1, C4: 1, C5: 1 }, (at) =>
      drawn(1900 + at, 1400)
        .jpeg()
        .toBuffer(),
    );
    context = await browser.newContext({ viewport, hasTouch: size === 'phone', reducedMotion: 'reduce' });
  }, 300_000);

  afterAll(async () => {
    await browser?.close();
    await lab?.close();
  });

  it('is begun from the place of the runs, and its timer goes on through a reload', async () => {
    page = await context.newPage();
    page.on('pageerror', (error) => faults.push(error.message));
    await pass(0);
    await page.goto(`${lab.address}/studies/${lab.study.id}/runs`);
    await page.getByRole('link', { name: 'Carry it out Run 3' }).click();
    await button('Begin the run').click();
    await button('Start').click();
    await pass(75);
    await soon(() => page.locator('.bench-timer strong').textContent()).toBe('1:15');
    await soon(async () => (await bench()).state).toBe('under-way');
    await page.reload();
    await page.locator('.bench-timer').waitFor();
    await soon(() => page.locator('.bench-timer strong').textContent()).toBe('1:15');
    await button('Uncover').click();
    await pass(90);
    await button('Cover').click();
    await button('Done').click();
    await page.getByLabel('How many times as it was').fill('100');
    await button('Done so').click();
    await soon(async () => (await bench()).steps_done).toBe(1);
    expect((await bench()).uncovered).toMatchObject({ openings: 1, measured_min: 1.5 });
  });

  it('keeps taps on the telephone while nobody answers, and sends them once, in order, when the page is opened again', async () => {
    await context.setOffline(true);
    await button('Start').click();
    await button('Lay it').click();
    await button('Uncover').click();
    await soon(() => page.locator('.bench-kept').textContent()).toContain('3 taps are kept on this device');
    await soon(() => page.locator('.bench-kept').textContent()).toContain('when the laboratory answers');
    const taps = async () => (await lab.ask('GET', `/api/runs/${run}/sheet`)).json.taps;
    const before = (await taps()).length;
    // The battery dies: what was tapped is on the telephone's disk, and nowhere else.
    await page.close();
    await context.setOffline(false);
    page = await context.newPage();
    page.on('pageerror', (error) => faults.push(error.message));
    await pass(30);
    await page.goto(sheetOf());
    await page.locator('.bench-filter').waitFor();
    await soon(async () => (await taps()).length).toBe(before + 3);
    const kept = await taps();
    expect(kept.slice(-3).map((tap: { deed: { do: string } }) => tap.deed.do)).toEqual([
      'start',
      'lay-filter',
      'uncover',
    ]);
    const numbers = kept.map((tap: { number: number }) => tap.number);
    expect(numbers).toEqual([...numbers].sort((a, b) => a - b));
    await soon(() => page.locator('.bench-kept').textContent()).toContain('All taps are with the laboratory');
  });

  it('draws the curve from taps at volume marks, says where to stop, and keeps the rest of a clogged filter', async () => {
    await button('Cover').click();
    await button('Flow starts now').click();
    await button('25 mL now').waitFor();
    // Intermediate blocking, 2 mL/s at first and a loss of 0.02 per mL: t = (exp(0.02 V) − 1) / 0.04.
    let last = 0;
    for (const volume of [25, 50, 75, 100, 125]) {
      const time = (Math.exp(0.02 * volume) - 1) / 0.04;
      await pass(time - last);
      last = time;
      await button(`${volume} mL now`).click();
      await button(`${volume + 25} mL now`).waitFor();
    }
    await soon(() => page.locator('.bench-advice').textContent()).toMatch(/Stop here/);
    expect(await page.locator('.bench-flow svg.chart').count()).toBe(1);
    await button('It ends here').click();
    await button('Keep it so').click();
    expect(await page.locator('.sheet-problem').textContent()).toContain('say where the kept rest stands');
    await page.getByRole('textbox', { name: 'Place' }).fill('cold shelf, bottle 3');
    await button('Keep it so').click();
    await button('Done so').click();
    await button('End the run').click();
    await soon(async () => (await bench()).state).toBe('done');
    const { balance, clogged, fractions } = await bench();
    expect(clogged).toBe(true);
    expect(balance).toMatchObject({ in_ml: 200, out_ml: 200, agrees: true });
    expect(fractions.map((one: { volume_ml: number }) => one.volume_ml).sort()).toEqual([125, 75]);
    const { labels } = (await lab.ask('GET', `/api/studies/${lab.study.id}/labels`)).json;
    expect(labels.some((one: { lines: string[] }) => one.lines.includes('cold shelf, bottle 3'))).toBe(true);
  });

  it('counts the run for the share that passed, once its filter is photographed', async () => {
    const before = await standing();
    await page.goto(`${lab.address}/studies/${lab.study.id}/runs/${run}`);
    await page.getByRole('link', { name: 'Filter Run 3', exact: true }).click();
    const bytes = await drawn(1850, 1400).jpeg().toBuffer();
    await page
      .locator('input[type=file]:not([webkitdirectory])')
      .setInputFiles([{ name: '20 pieces.jpg', mimeType: 'image/jpeg', buffer: bytes }]);
    await page.getByLabel('20 pieces.jpg shows').selectOption('whole');
    await soon(async () => (await standing()).points.find((point) => point.run === run)?.count.state).toBe(
      'counted',
    );
    const after = await standing();
    const point = after.points.find((one) => one.run === run)!;
    expect(point.passed).toBeCloseTo(0.625, 6);
    expect(after.held_back.map((held) => held.message).join(' ')).toMatch(/only a part is on filters/);
    expect(before.claim.state).toBe('cannot-be-judged');
    expect(after.claim.state).not.toBe('cannot-be-judged');
    await page.goto(`${lab.address}/studies/${lab.study.id}/claim`);
    await soon(() => page.locator('main').textContent()).toContain(after.claim.sentence.slice(0, 20));
  });

  it('takes the run out of the claim when a step was put in that no control has, in two taps, and names the control that would mend it', async () => {
    const before = await standing();
    await page.goto(sheetOf());
    await button(/Cut/).click();
    await button('Otherwise').click();
    await button('Rinse').click();
    await soon(() => page.locator('.bench-recorded').textContent()).toContain('Recorded');
    // The comparison is reckoned after the tap is stored, a moment later.
    await soon(() => page.locator('.coverage-now').first().textContent()).toMatch(
      /Run Run 3 has no background of its own.*One act control more like/s,
    );
    await soon(async () => (await bench()).deviations.length).toBe(1);
    const after = await standing();
    expect(after.claim.state).toBe('cannot-be-judged');
    expect(
      after.held_back.filter((held) => held.run === run && held.why === 'control-does-not-match'),
    ).toHaveLength(1);
    await button('Go on').click();
    await button(/^Undo/).click();
    await soon(async () => (await bench()).deviations.length).toBe(0);
    await soon(async () => (await standing()).claim.sentence).toBe(before.claim.sentence);
  });

  it('lets in another telephone by the code on the computer’s page, and sends it away again', async () => {
    const computer = await (await browser.newContext({ viewport: { width: 1440, height: 900 } })).newPage();
    await computer.goto(`${lab.address}/network`);
    await computer.getByRole('button', { name: /^Open it at 127/ }).click();
    await computer.locator('.qr svg').waitFor();
    const { address, pairing } = (await lab.ask('GET', '/api/network')).json;
    expect(await computer.locator('.pairing').textContent()).toContain(pairing.code);
    const telephone = await (await browser.newContext({ viewport: SIZES[1].viewport })).newPage();
    await telephone.goto(address);
    await soon(() => telephone.locator('main').textContent()).toContain('This telephone is not paired');
    await telephone.goto(pairing.link);
    await telephone.getByLabel('Name of this telephone').fill('Ada’s telephone');
    await telephone.getByRole('button', { name: 'Pair it' }).click();
    await telephone.locator('.claim-sentence').waitFor();
    expect(telephone.url()).not.toContain(pairing.code);
    await telephone.goto(`${address}/studies/${lab.study.id}/runs/${run}/bench`);
    await telephone.getByRole('heading', { name: 'Run 3', level: 1 }).waitFor();
    await computer.getByRole('button', { name: 'Send it away Ada’s telephone' }).click();
    await soon(async () => (await lab.ask('GET', '/api/network')).json.devices.length).toBe(0);
    await telephone.reload();
    await soon(() => telephone.locator('main').textContent()).toContain('This telephone is not paired');
    await computer.getByRole('button', { name: 'Close it' }).click();
    await computer.getByRole('button', { name: /^Open it at 127/ }).waitFor();
    expect((await lab.ask('GET', '/api/network')).json).toMatchObject({ open: false, devices: [] });
    await computer.context().close();
    await telephone.context().close();
  });

  it('has no fault of accessibility on the sheet, the run, the runs and the labels', async () => {
    const study = `${lab.address}/studies/${lab.study.id}`;
    const found: string[] = [];
    // Both themes and both sizes between the two journeys; each page's plain state is looked at in the example too.
    const colorScheme = size === 'wide' ? 'light' : 'dark';
    await page.emulateMedia({ colorScheme });
    for (const path of [
      sheetOf(),
      `${study}/runs`,
      `${study}/runs/${run}`,
      `${study}/labels`,
      `${lab.address}/network`,
      `${lab.address}/pair`,
    ]) {
      await page.goto(path);
      await page.locator('main h1').first().waitFor();
      await soon(() => page.locator('.waiting').count()).toBe(0);
      for (const fault of await faultsOf(page)) found.push(`${colorScheme} ${path} ${fault}`);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth);
      if (wide > viewport.width) found.push(`${path} is ${wide} px wide`);
    }
    expect(found).toEqual([]);
    expect(faults).toEqual([]);
    await page.emulateMedia({ colorScheme: 'light' });
    await page.goto(sheetOf());
    await page.locator('.bench-head').waitFor();
    await picture(page, `bench-sheet-${size}`);
  });
});
