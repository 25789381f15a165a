/** Bench tests in a real browser: a random part is drawn, a piece tested step by step, a spectrum attached, a drill scored. */
import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { type CountedLaboratory, countedLaboratory, photograph, SCREENS } from './counted-laboratory.ts';
import { servedLaboratory } from './served-laboratory.ts';
import { buildScreens, faultsOf, foundBrowser, openBrowser, picture, SIZES } from './web-laboratory.ts';

const browserPath = foundBrowser();
if (browserPath === null)
  process.stdout.write('journey of bench tests skipped: no Chromium found; set CHROME_PATH to one.\n');

/** A curve with bands, in plain columns. */
const columns = (bands: readonly number[]): Buffer =>
  Buffer.from(
    `cm-1,A\n${Array.from({ length: 850 }, (_, k) => {
      const x = 4000 - 4 * k;
      const y = bands.reduce((sum, at, b) => sum + (0.4 + 0.1 * b) * Math.exp(-(((x - at) / 11) ** 2)), 0.05);
      return `${x},${(y + 0.002 * Math.sin(k * 12.9898)).toFixed(5)}`;
    }).join('\n')}\n`,
  );
const PE = [2915, 2845, 1472, 1462, 730, 717];
const PS = [3024, 2847, 1601, 1492, 1451, 1027, 694];

const soon = <T>(get: () => T | Promise<T>) => expect.poll(get, { timeout: 60_000, interval: 50 });

describe.skipIf(browserPath === null).each(SIZES)('bench tests, $size', ({ size, viewport }) => {
  let counted: CountedLaboratory;
  let lab: CountedLaboratory['lab'];
  let page: Page;
  const evidence = () => `${lab.address}/studies/${lab.study.id}/evidence`;
  const asked = async (path: string) => (await lab.ask('GET', `/api${path}`)).json;
  const ofStudy = (view: string) => asked(`/studies/${lab.study.id}/${view}`);

  beforeAll(async () => {
    counted = await countedLaboratory(browserPath!, viewport);
    ({ lab, page } = counted);
  });
  afterAll(() => counted?.close());
  afterEach(() => expect(counted.faults.splice(0)).toEqual([]));

  /** Draws a random part for a test and gives its address. */
  const draw = async (test: string, pieces: number): Promise<string> => {
    await page.goto(evidence());
    const offered = page.getByText(test, { exact: true }).first();
    await offered.waitFor();
    const made = await lab.ask('POST', `/api/studies/${lab.study.id}/subsets`, {
      name: `${test} part`,
      test: test.toLowerCase().replaceAll(' ', '-'),
      pieces,
    });
    expect(made.status).toBe(200);
    await page.goto(`${evidence()}/subset-${made.json.id}`);
    return made.json.id;
  };
  const next = () => page.getByRole('button', { name: /^(Next|Done)$/ }).click();

  it('lead through a heated needle, step by step, and the claim follows', async () => {
    const subset = await draw('Heated needle', 12);
    const before = (await ofStudy('standing')).claim;
    await page.getByRole('button', { name: 'Test the first piece' }).click();
    await page.getByText('Still on its filter (cellulose nitrate)').waitFor();
    // on this filter the needle must not be used, and the page says so before anything is done
    expect(await page.locator('.not-tested').textContent()).toMatch(/burns fiercely.*counts as not tested/s);
    expect(await faultsOf(page)).toEqual([]);
    await page.getByLabel('On a glass slide').check();
    await page.locator('.not-tested').waitFor({ state: 'detached' });
    await next();
    await page.getByRole('heading', { name: 'Photograph it.' }).waitFor();
    await page.locator('.take-picture input').setInputFiles({
      name: 'before.jpg',
      mimeType: 'image/jpeg',
      buffer: Buffer.from(await photograph(40)),
    });
    await page.getByText('Taken; take another').waitFor();
    await picture(page, `test-step-${size}`);
    await next();
    await page.getByRole('timer').or(page.locator('.timer')).first().waitFor();
    await next();
    expect(await faultsOf(page)).toEqual([]);
    await next();
    await next();
    await page.getByRole('heading', { name: /What does the piece do/ }).waitFor();
    expect(await faultsOf(page)).toEqual([]);
    await picture(page, `test-answer-${size}`);
    await page.getByRole('button', { name: 'Chars, burns or goes to ash' }).click();
    // the next piece stands there at once
    await page.getByText('piece 2 of 12').waitFor();
    await page.getByRole('button', { name: 'Pieces' }).click();
    await page.getByText('“chars” speaks against plastic').waitFor();
    const { pieces } = await asked(`/subsets/${subset}`);
    const [told] = pieces[0].answers;
    expect(told).toMatchObject({ test: 'heated-needle', value: 'chars', outside: null });
    expect(told.pictures).toHaveLength(1);
    // and none of the others is plastic either: the claim must bear that too
    for (const piece of pieces.slice(1)) {
      const { status } = await lab.ask('POST', `/api/particles/${piece.particle.id}/bench-answers`, {
        test: 'heated-needle',
        value: 'chars',
        setting: 'tip-350',
        on_glass: true,
      });
      expect(status).toBe(200);
    }
    const after = (await ofStudy('standing')).claim;
    expect(after.sentence).not.toBe(before.sentence);
    await page.goto(`${lab.address}/studies/${lab.study.id}/claim`);
    await soon(async () =>
      ((await page.locator('.claim-sentence').first().textContent()) ?? '').replaceAll('\u00a0', ' '),
    ).toBe(after.sentence);
  });

  it('are open to a piece that somebody chose on its photograph, and no share moves by it', async () => {
    await lab.ask('POST', `/api/studies/${lab.study.id}/subsets`, {
      name: 'Magnet part',
      test: 'magnet',
      pieces: 4,
    });
    const { filters } = await ofStudy('filters');
    const [filter] = filters;
    await page.goto(
      `${lab.address}/studies/${lab.study.id}/filters/${filter.id}/photos/${filter.photos[0].id}`,
    );
    const strip = page.locator('.strip-particle');
    const link = page.getByRole('link', { name: 'Test this piece' });
    await strip.first().waitFor();
    // one that no draw named and no test used up
    const isFree = async () => {
      const id = /piece-(.+)$/.exec((await link.getAttribute('href')) ?? '')?.[1];
      const { drawn, used_up } = await asked(`/particles/${id}/tests`);
      return drawn.length === 0 && used_up === null;
    };
    for (let at = 0; at < (await strip.count()); at++) {
      await strip.nth(at).click();
      await link.waitFor();
      if (await isFree()) break;
    }
    expect(await isFree()).toBe(true);
    await link.click();
    await page.getByText('Chosen by hand.').waitFor();
    expect(await page.locator('.by-hand').textContent()).toContain('never enters the share of plastic');
    expect(await faultsOf(page)).toEqual([]);
    await picture(page, `piece-${size}`);
    const before = [(await ofStudy('standing')).claim, (await ofStudy('evidence')).subsets];
    await page.getByRole('button', { name: /^Press or scratch/ }).click();
    await page.getByText(/chosen by hand/).waitFor();
    expect(await faultsOf(page)).toEqual([]);
    for (let at = 0; at < 12; at++) {
      const further = page.getByRole('button', { name: /^(Next|Done)$/ });
      if ((await further.count()) === 0) break;
      if (await further.isDisabled())
        await page.getByRole('button', { name: 'Go on with the filter’s photograph alone' }).click();
      await further.click();
    }
    await page.locator('.test-answers button').first().click();
    await page.getByRole('heading', { name: 'What was tested' }).waitFor();
    expect(await faultsOf(page)).toEqual([]);
    await picture(page, `piece-tested-${size}`);
    expect([(await ofStudy('standing')).claim, (await ofStudy('evidence')).subsets]).toEqual(before);
    await page.goto(evidence());
    await page.getByRole('heading', { name: 'Pieces chosen by hand' }).waitFor();
    await page.locator('.piece-answers a').first().click();
    await page.getByRole('button', { name: 'Take it back' }).click();
    await page.getByRole('heading', { name: 'What was tested' }).waitFor({ state: 'detached' });
    expect((await ofStudy('evidence')).by_hand).toEqual([]);
  });

  it('take the spectrum of a piece in, and its answer', async () => {
    const subset = await draw('Spectrum', 4);
    const known = `/api/studies/${lab.study.id}/known-spectra`;
    for (const [name, bands] of [
      ['HDPE 1.csv', PE],
      ['HDPE 2.csv', PE],
      ['PS 1.csv', PS],
    ] as const) {
      const { status } = await lab.ask('PUT', `${known}?name=${encodeURIComponent(name)}`, columns(bands));
      expect(status).toBe(200);
    }
    await page.getByRole('button', { name: 'Test the first piece' }).click();
    for (let at = 0; at < 4; at++) await next();
    await page.getByRole('heading', { name: /What is the spectrum/ }).waitFor();
    expect(await faultsOf(page)).toEqual([]);
    await page.locator('.attach-spectrum input').setInputFiles({
      name: 'piece one.csv',
      mimeType: 'text/csv',
      buffer: columns(PE),
    });
    await page.getByText('piece 2 of 4').waitFor();
    const { pieces } = await asked(`/subsets/${subset}`);
    expect(pieces[0].answers.at(-1)).toMatchObject({ test: 'spectrum', value: 'PE', outside: null });
  });

  it('are drilled on known pieces: each answer is kept as it is given, and a page loaded anew goes on', async () => {
    const made = await lab.ask('POST', `/api/studies/${lab.study.id}/known-sets`, {
      name: 'Known pieces',
      made: 'invented',
      pieces: Array.from({ length: 6 }, (_, at) => ({
        key: `K${at + 1}`,
        material: at % 2 === 0 ? 'polyethylene' : 'cotton',
        class: at % 2 === 0 ? 'thermoplastic' : 'natural-fibre',
        shape: 'fragment',
        colour: 'blue',
        size_um: 175,
        particle: null,
      })),
    });
    expect(made.status).toBe(200);
    const answers = async () =>
      (await ofStudy('evidence')).sittings.flatMap((one: { answers: [] }) => one.answers);
    await page.goto(`${evidence()}/drills`);
    await page.getByRole('button', { name: 'Begin' }).click();
    for (const key of ['p', 'o', 'p']) await page.keyboard.press(key);
    await page.getByText('4 of 6').waitFor();
    await soon(answers).toHaveLength(3);
    await page.keyboard.press('ArrowLeft');
    await page.getByText('3 of 6').waitFor();
    // out of reach: what is called waits here, and a page loaded anew still has it
    await page.route('**/api/known-sets/**', (route) => route.abort());
    await page.keyboard.press('c');
    await page.getByText('1 answer waits on this device').waitFor();
    await page.unroute('**/api/known-sets/**');
    await page.reload();
    await page.getByText('A drill is under way: 3 of 6 called.').waitFor();
    await page.getByRole('button', { name: 'Go on' }).click();
    await page.getByText('4 of 6').waitFor();
    expect(await faultsOf(page)).toEqual([]);
    for (const key of ['p', 'o', 'p']) await page.keyboard.press(key);
    await page.getByText('All 6 are called.').waitFor();
    await page.getByRole('button', { name: 'End the drill' }).click();
    await soon(async () => (await answers()).length).toBe(7);
    const all = (await answers()) as { piece: string; called: string; undone: boolean }[];
    expect(new Set(all.filter((one) => !one.undone).map((one) => one.piece)).size).toBe(6);
    expect(all.filter((one) => one.undone)).toHaveLength(1);
    expect((await ofStudy('evidence')).sittings).toHaveLength(1);
  });
});

describe.skipIf(browserPath === null)('a part of the page that does not come', () => {
  it('is said in a sentence inside the page, and comes when the program is back', async () => {
    await buildScreens();
    const lab = await servedLaboratory(SCREENS);
    const browser = await openBrowser(browserPath!);
    try {
      const context = await browser.newContext({ viewport: SIZES[0].viewport });
      const page = await context.newPage();
      page.setDefaultTimeout(60_000);
      await page.goto(`${lab.address}/studies/${lab.study.id}`);
      await page.getByRole('heading', { level: 1 }).waitFor();
      // the places of the work come by themselves, before the connection may fail
      await soon(() =>
        page.evaluate(() =>
          performance.getEntriesByType('resource').some(({ name }) => name.includes('bench-page')),
        ),
      ).toBe(true);
      await context.setOffline(true);
      await page
        .getByRole('link', { name: /^Evidence/ })
        .first()
        .click();
      await page
        .getByText('This cannot be shown')
        .or(page.getByText('Reading the evidence'))
        .first()
        .waitFor();
      await page.evaluate(() => {
        history.pushState(null, '', '/liquids');
        dispatchEvent(new PopStateEvent('popstate'));
      });
      await page.getByRole('heading', { name: 'This place cannot be shown' }).waitFor();
      expect(await page.locator('main').textContent()).toContain('which does not answer');
      expect(await page.locator('header.top').count()).toBe(1);
      await page.getByRole('button', { name: 'Try again' }).click();
      await page.getByRole('heading', { name: 'This place cannot be shown' }).waitFor();
      await context.setOffline(false);
      await page.getByRole('heading', { name: 'Liquids', level: 1 }).waitFor();
      expect(await faultsOf(page)).toEqual([]);
      await page.getByRole('link', { name: 'Boards' }).click();
      await page
        .getByRole('link', { name: /^Evidence/ })
        .first()
        .click();
      await page.getByRole('heading', { name: 'Evidence', level: 1 }).waitFor();
    } finally {
      await browser.close();
      await lab.close();
    }
  });
});
