import type { Browser, Locator, Page } from 'playwright-core';
import sharp from 'sharp';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type {
  FilterJson,
  FiltersAnswer,
  ParticlesAnswer,
  StandingJson,
  StudiesAnswer,
} from '../../src/api/index.ts';
import { readWhere, TITLES } from '../../src/web/app/where.ts';
import { METHOD_PAGES, PAGES_BESIDE, placesOf } from './every-place.ts';
import { firstVisit } from './first-visit.ts';
import {
  buildScreens,
  faultsOf,
  foundBrowser,
  makeExample,
  type Opened,
  openBrowser,
  openLaboratory,
  SIZES,
} from './web-laboratory.ts';

/** Sentences on the page hold figures and units together by spaces that do not break. */
const textOf = async (place: Locator) => ((await place.textContent()) ?? '').replaceAll('\u00a0', ' ');
const browserPath = foundBrowser();
if (browserPath === null) {
  process.stdout.write('web journeys skipped: no Chromium found; set CHROME_PATH to one.\n');
}

const soon = <T>(get: () => T | Promise<T>) => expect.poll(get, { timeout: 60_000, interval: 50 });

describe.skipIf(browserPath === null)('the application in a browser', () => {
  let browser: Browser;
  let example: Awaited<ReturnType<typeof makeExample>>;
  let opened: Opened;
  let study: string;
  let page: Page;
  let faults: string[];

  const asked = async <T>(path: string): Promise<T> =>
    (await (await fetch(opened.address + path)).json()) as T;
  const standing = () => asked<StandingJson>(`/api/studies/${study}/standing`);
  const filters = async () => (await asked<FiltersAnswer>(`/api/studies/${study}/filters`)).filters;
  /** A filter of the product with particles that count. */
  const richFilter = async (): Promise<FilterJson> => {
    const worth = (filter: FilterJson) => (filter.count.state === 'counted' ? filter.count.count : -1);
    const own = (await filters()).filter((one) => one.run.kind === 'specimen-run');
    return own.sort((a, b) => worth(b) - worth(a))[0]!;
  };
  const lookAt = async (filter: FilterJson) => {
    const photo = filter.photos.find((one) => one.state === 'searched')!;
    await page.goto(`${opened.address}/studies/${study}/filters/${filter.id}/photos/${photo.id}`);
    await page.locator('.strip-particle').first().waitFor();
    return photo;
  };
  const counted = async () =>
    Number(/: (\d+)$/.exec(await textOf(page.locator('.looking-claim strong')))![1]);

  beforeAll(async () => {
    [browser, example] = await Promise.all([openBrowser(browserPath!), makeExample(), buildScreens()]);
    opened = await openLaboratory(example.folder);
    study = (await asked<StudiesAnswer>('/api/studies')).studies[0]!.id;
  }, 900_000);

  afterAll(async () => {
    await browser?.close();
    await opened?.close();
    await example?.remove();
  });

  beforeEach(async () => {
    const context = await browser.newContext({ viewport: SIZES[0].viewport });
    page = await context.newPage();
    page.setDefaultTimeout(90_000);
    faults = [];
    page.on('pageerror', (error) => faults.push(error.message));
  });
  afterEach(async () => {
    await page.context().close();
    expect(faults).toEqual([]);
  });

  it('opens on where the study stands: the claim, its picture, what holds it back', async () => {
    await page.goto(opened.address);
    const heading = page.getByRole('heading', { level: 1 });
    const { claim, held_back, points } = await standing();
    await soon(() => textOf(heading)).toBe(claim.sentence);
    expect(await textOf(page.locator('.invented'))).toContain('Invented example');
    const dots = points.filter((point) => point.kind !== 'spiked-run').length;
    await soon(() => page.locator('svg.chart .run').count()).toBe(dots);
    const mends = page.locator('.holds a');
    expect(await mends.count()).toBe(Math.min(3, held_back.length));
    for (let k = 0; k < (await mends.count()); k++) {
      await mends.nth(k).click();
      await page.locator('main h1').first().waitFor();
      expect(await textOf(page.locator('main'))).not.toContain('No such page');
      await page.goBack();
      await mends.first().waitFor();
    }
  });

  it.each(SIZES)(
    'leads a first visitor from the first page to the claim and its report, $size',
    async (at) => {
      await page.setViewportSize(at.viewport);
      await page.goto(opened.address);
      const report = await firstVisit(page, at.size);
      const { claim } = await standing();
      expect(await textOf(page.locator('.claim-sentence'))).toBe(claim.sentence);
      expect(report.replaceAll('\u00a0', ' ')).toContain(claim.sentence);
    },
  );

  it('says on every page of the study that the example is invented', async () => {
    for (const path of await placesOf(asked, study, await richFilter())) {
      await page.goto(opened.address + path);
      await page.locator('main h1').first().waitFor();
      await page.locator('.invented').waitFor();
    }
  });

  it('lets the claim follow a mark at once, and undo brings it back', async () => {
    const filter = await richFilter();
    await lookAt(filter);
    const before = (await standing()).claim;
    const had = await counted();
    const line = page.locator('.looking-claim span');
    const sentence = () => textOf(line);
    await soon(sentence).toBe(before.sentence);
    // Kept ones are dropped until the sentence must change.
    let dropped = 0;
    for (let tries = 0; tries < 60 && dropped < 6; tries++) {
      await page.keyboard.press('ArrowRight');
      const option = page.locator('[role=option][aria-selected=true]');
      if ((await option.getAttribute('aria-label'))!.endsWith('dropped')) continue;
      const own = await option.getAttribute('id');
      await page.keyboard.press('d');
      await soon(() => page.locator(`[id="${own}"]`).getAttribute('class')).toContain('is-dropped');
      dropped += 1;
    }
    expect(dropped).toBe(6);
    await soon(counted).toBe(had - 6);
    // The page counts a mark before the server has it; the sentence is the server's.
    const counting = async () => (await filters()).find((one) => one.id === filter.id)!.count;
    await soon(counting).toMatchObject({ count: had - 6 });
    const after = (await standing()).claim;
    expect(after.net_per_gram!.value).toBeLessThan(before.net_per_gram!.value);
    expect(after.sentence).not.toBe(before.sentence);
    await soon(sentence).toBe(after.sentence);
    for (let k = 0; k < 6; k++) {
      await page.keyboard.press(k % 2 === 0 ? 'u' : 'Control+z');
      await soon(counted).toBe(had - 5 + k);
    }
    await soon(sentence).toBe(before.sentence);
    expect((await standing()).claim.net_per_gram).toEqual(before.net_per_gram);
  });

  it('keeps and drops with the mouse', async () => {
    const filter = await richFilter();
    await lookAt(filter);
    await page.locator('.strip-particle').nth(1).click();
    const decision = page.locator('.chosen .decision');
    const chosen = page.locator('.chosen h2');
    const name = await textOf(chosen);
    const was = await textOf(decision);
    await page.getByRole('button', { name: /^Drop/ }).click();
    await soon(() => textOf(chosen)).not.toBe(name);
    await page.getByRole('button', { name: /^Undo/ }).click();
    await soon(() => textOf(chosen)).toBe(name);
    await soon(() => textOf(decision)).toBe(was);
  });

  it('shows where two people differ: both are named, the later stands', async () => {
    const photo = await lookAt(await richFilter());
    await page.locator('.strip-particle.is-kept').first().click();
    const own = (await page.locator('[role=option][aria-selected=true]').getAttribute('id'))!;
    const { people } = await asked<{ people: { id: string; name: string }[] }>('/api/people');
    const other = people.find((one) => one.name === 'Jonas Example')!;
    const dropped = await fetch(`${opened.address}/api/photos/${photo.id}/marks`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', 'x-working': other.id },
      body: JSON.stringify({ deed: 'drop', particles: [own.replace('particle-', '')] }),
    });
    expect(dropped.status).toBe(200);
    // Word of it comes to the open page by itself.
    await soon(() => page.locator(`[id="${own}"]`).getAttribute('class')).toContain('is-dropped');
    await page.keyboard.press('k');
    await soon(() => page.locator(`[id="${own}"]`).getAttribute('class')).toContain('is-disputed');
    await page.locator(`[id="${own}"]`).click();
    await soon(() => textOf(page.locator('.disagree'))).toMatch(
      /People differ.*dropped by Jonas Example.*kept by/s,
    );
    expect(await faultsOf(page)).toEqual([]);
    await page.keyboard.press('u');
    await page.keyboard.press('u');
    await soon(() => page.locator(`[id="${own}"]`).getAttribute('class')).not.toContain('is-disputed');
  });

  it('adds a piece with the keys alone, cuts it by a drag, joins the halves, and undoes all three', async () => {
    const photo = await lookAt(await richFilter());
    const there = async () =>
      (await asked<ParticlesAnswer>(`/api/photos/${photo.id}/particles`)).particles.map((one) => one.id);
    const before = await there();
    const press = async (...keys: string[]) => {
      for (const key of keys) await page.keyboard.press(key);
    };
    await press(
      'n',
      'Shift+ArrowLeft',
      ' ',
      'Shift+ArrowRight',
      'Shift+ArrowRight',
      ' ',
      'Shift+ArrowDown',
      ' ',
    );
    await press('Shift+ArrowLeft', 'Shift+ArrowLeft', ' ', 'Enter');
    await page.locator('.hand-says select').first().selectOption('film');
    await page.getByRole('button', { name: 'Add', exact: true }).click();
    await soon(there).toHaveLength(before.length + 1);
    const drawn = (await there()).find((id) => !before.includes(id))!;
    await page.locator('.strip').evaluate((strip) => strip.scrollTo({ left: 1e6 }));
    await page.locator(`[id="particle-${drawn}"]`).click();
    expect(await textOf(page.locator('.chosen-facts .fine'))).toContain('drawn by hand');
    await page.keyboard.press('z');
    await page.waitForTimeout(600);
    const box = (await page.locator('.viewer').boundingBox())!;
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    await page.keyboard.press('c');
    await page.mouse.move(x, y - 0.35 * box.height);
    await page.mouse.down();
    await page.mouse.move(x, y + 0.35 * box.height, { steps: 6 });
    await page.mouse.up();
    await soon(there).toHaveLength(before.length + 2);
    const halves = (await there()).filter((id) => !before.includes(id));
    expect(halves).not.toContain(drawn);
    await page.locator('.strip').evaluate((strip) => strip.scrollTo({ left: 1e6 }));
    await page.locator(`[id="particle-${halves[0]}"]`).click();
    await page.locator(`[id="particle-${halves[1]}"]`).click({ modifiers: ['Shift'] });
    await page.keyboard.press('j');
    await soon(there).toHaveLength(before.length + 1);
    for (let k = 0; k < 3; k++) await page.keyboard.press('u');
    await soon(async () => (await there()).sort()).toEqual([...before].sort());
  });

  it('takes good photographs in and refuses a broken one among them in a sentence', async () => {
    const all = await filters();
    const target = all.find((one) => one.run.kind === 'air-control')!;
    const other = all.find((one) => one.run.kind === 'procedural-blank' && one.photos.length > 0)!;
    const original = Buffer.from(
      await (await fetch(`${opened.address}/api/photos/${other.photos[0]!.id}/original`)).arrayBuffer(),
    );
    // Another picture of a filter: the same one would be refused, because a photograph shows one filter.
    const turned = await sharp(original).rotate(180).jpeg({ quality: 92 }).toBuffer();
    const evil = '<img src=x onerror=document.title=`bad`>.jpg';
    await page.goto(`${opened.address}/studies/${study}/filters/${target.id}`);
    await page.locator('input[type=file]:not([webkitdirectory])').setInputFiles([
      { name: 'cut short.jpg', mimeType: 'image/jpeg', buffer: original.subarray(0, 9000) },
      { name: evil, mimeType: 'image/jpeg', buffer: turned },
      { name: 'note.jpg', mimeType: 'image/jpeg', buffer: Buffer.from('a shopping list') },
    ]);
    await soon(() => textOf(page.locator('.incoming > p'))).toBe('1 photograph brought in, 2 files refused.');
    const refusals = page.locator('.incoming-refused');
    expect(await refusals.count()).toBe(2);
    for (const text of await refusals.allInnerTexts()) expect(text).toMatch(/(cut short|note)\.jpg[\s\S]*\./);
    await soon(() => page.locator('.photo-card').count()).toBe(target.photos.length + 1);
    await soon(() => page.locator('.photo-card.is-searched').count()).toBe(target.photos.length + 1);
    expect(await page.locator('.photo-name').allInnerTexts()).toContain(evil);
    expect(await page.title()).toBe('Filters · Retentate');
  });

  it('offers to learn from own controls what false finds the setting gives, the barest ones ticked', async () => {
    await page.goto(`${opened.address}/studies/${study}/filters`);
    const place = page.locator('.own-controls');
    await place.getByText('Not measured yet').waitFor();
    await place.getByRole('button', { name: 'Learn from own controls' }).click();
    const blanks = (await filters()).filter((one) => one.run.kind === 'procedural-blank').length;
    expect(blanks).toBeGreaterThan(0);
    await soon(() => place.getByRole('checkbox', { checked: true }).count()).toBe(blanks);
    expect(await place.getByRole('checkbox').count()).toBeGreaterThan(blanks);
    await place.getByRole('button', { name: `Search ${blanks} photographs` }).waitFor();
    expect(await faultsOf(page)).toEqual([]);
    await place.getByRole('button', { name: 'Leave it' }).click();
    await place.getByRole('button', { name: 'Learn from own controls' }).waitFor();
  });

  it('can be worked by keyboard alone, from the first page to a mark', async () => {
    await page.goto(opened.address);
    await page.locator('.claim-sentence').waitFor();
    const goTo = async (wanted: RegExp) => {
      for (let k = 0; k < 120; k++) {
        await page.keyboard.press('Tab');
        const name = await page.evaluate(() => {
          const element = document.activeElement as HTMLElement | null;
          const named = element?.querySelector('.disc-name, .photo-name, .course-name') ?? element;
          return element?.getAttribute('aria-label') ?? named?.textContent ?? '';
        });
        if (wanted.test(name)) return page.keyboard.press('Enter');
      }
      throw new Error(`no stop of the Tab key is called ${wanted}`);
    };
    const filter = await richFilter();
    const photo = filter.photos.find((one) => one.state === 'searched')!;
    await goTo(/^Filters/);
    await page.getByRole('heading', { name: 'Filters', level: 1 }).waitFor();
    await page.locator('.discs').first().waitFor();
    await goTo(new RegExp(`^${filter.name}$`));
    await page.getByRole('heading', { name: filter.name, level: 1 }).waitFor();
    await goTo(new RegExp(`^${photo.name.replaceAll('.', '\\.')}`));
    await page.locator('.strip-particle').first().waitFor();
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowRight');
    const own = (await page.locator('[role=option][aria-selected=true]').getAttribute('id'))!;
    await page.keyboard.press('k');
    const particle = own.replace('particle-', '');
    await soon(async () => {
      const { particles } = await asked<ParticlesAnswer>(`/api/photos/${photo.id}/particles`);
      return particles.find((one) => one.id === particle)?.decision;
    }).toBe('kept');
    await page.keyboard.press('u');
    // and on to the claim: what one number rests on, and the report
    await goTo(/^Claim/);
    await page.getByRole('heading', { name: 'Claim', level: 1 }).waitFor();
    await soon(() => page.locator('.waiting').count()).toBe(0);
    await goTo(/^Where this comes from/);
    await soon(() => page.locator('details.where-from[open] .formula').count()).toBe(1);
    // What is asked for by itself may come later than the rest.
    await page.getByRole('button', { name: /^Enter a published value/ }).waitFor();
    await goTo(/^Enter a published value/);
    const source = page.getByLabel('Where it was published');
    await source.waitFor();
    await goTo(/^Leave it/);
    await source.waitFor({ state: 'detached' });
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => document.activeElement?.closest('main') !== null)).toBe(true);
  });

  it('names every page that there is, so that none is left unlooked at', async () => {
    const paths = [...(await placesOf(asked, study, await richFilter())), ...PAGES_BESIDE, ...METHOD_PAGES];
    const seen = new Set(paths.map((path) => readWhere(path).page));
    expect(Object.keys(TITLES).filter((name) => !seen.has(name as keyof typeof TITLES))).toEqual([]);
  });

  // Two passes see both themes and both layouts; the other two pairs differ from them in nothing that the rules look at.
  it.each([
    ['light', SIZES[0]],
    ['dark', SIZES[1]],
  ] as const)(
    'has no fault of accessibility on any page, %s',
    async (colorScheme, { size, viewport }) => {
      const found: string[] = [];
      const context = await browser.newContext({ viewport, colorScheme, reducedMotion: 'reduce' });
      const own = await context.newPage();
      const paths = [...(await placesOf(asked, study, await richFilter())), ...PAGES_BESIDE];
      for (const path of colorScheme === 'light' ? [...paths, ...METHOD_PAGES] : paths) {
        await own.goto(opened.address + path);
        await own.locator('main h1').first().waitFor();
        await soon(() => own.locator('.waiting').count()).toBe(0);
        if (path.includes('/photos/')) await own.keyboard.press('ArrowRight');
        for (const fault of await faultsOf(own)) found.push(`${colorScheme} ${size} ${path} ${fault}`);
        const [inner, outer] = await own.evaluate(() => [
          document.documentElement.scrollWidth,
          document.documentElement.clientWidth,
        ]);
        if (inner! > outer!) found.push(`${size} ${path} scrolls sideways: ${inner} of ${outer} px`);
      }
      await context.close();
      expect(found).toEqual([]);
    },
    900_000,
  );

  it('says when the program stops, keeps a mark made meanwhile, and sends it when it is back', async () => {
    const filter = await richFilter();
    const photo = await lookAt(filter);
    await page.locator('.strip-particle.is-kept').first().click();
    const own = (await page.locator('[role=option][aria-selected=true]').getAttribute('id'))!;
    const particle = own.replace('particle-', '');
    const decisionNow = async () => {
      const { particles } = await asked<ParticlesAnswer>(`/api/photos/${photo.id}/particles`);
      return particles.find((one) => one.id === particle)?.decision;
    };
    const was = await decisionNow();
    expect(was).toBe('kept');
    await opened.close();
    await soon(() => textOf(page.locator('.top-state'))).toContain('does not answer');
    await page.keyboard.press('d');
    await soon(() => page.locator(`[id="${own}"]`).getAttribute('class')).toContain('is-dropped');
    await soon(() => textOf(page.locator('.top-state'))).toContain('1 mark waits here');
    opened = await openLaboratory(example.folder, opened.port);
    await soon(() => textOf(page.locator('.top-state'))).toBe('');
    await soon(decisionNow).toBe('dropped');
    await page.keyboard.press('u');
    await soon(decisionNow).toBe(was);
  });
});
