/** A sealed round in a real browser: two people score apart, known pieces among the pictures, then the key is opened. */
import { fileURLToPath } from 'node:url';
import type { Browser, Page, Request } from 'playwright-core';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { layFilter, recordRun } from '../../src/actions/index.ts';
import { systemClock, systemNames } from '../../src/store/index.ts';
import { given } from '../engines/small-study.ts';
import { servedLaboratory } from './served-laboratory.ts';
import { buildScreens, faultsOf, foundBrowser, openBrowser, picture, SIZES } from './web-laboratory.ts';

const SCREENS = fileURLToPath(new URL('../../dist/web', import.meta.url));
const browserPath = foundBrowser();
if (browserPath === null)
  process.stdout.write('blinded journey skipped: no Chromium found; set CHROME_PATH to one.\n');

/** A membrane with squares where the pretended finder sees its pieces. */
async function photograph(seed: number): Promise<Uint8Array> {
  const [width, height] = [900, 640];
  const data = Buffer.alloc(width * height * 3, 226);
  for (let at = 0; at < 30; at++) {
    const left = 16 + at * 21;
    for (let y = 10; y < 35; y++)
      for (let x = left; x < Math.min(left + 12, width); x++)
        data[(y * width + x) * 3 + (seed % 3)] = 60 + seed;
  }
  data[seed] = seed;
  return sharp(data, { raw: { width, height, channels: 3 } })
    .jpeg({ quality: 92 })
    .toBuffer();
}

/** What somebody says of a picture follows from its code: the same for both, but for a few. */
const first = (code: string): 'p' | 'o' => (/^[BCDFGHJ]/.test(code) ? 'o' : 'p');
const second = (code: string): 'p' | 'o' => (/[79]$/.test(code) ? 'o' : first(code));

const atBothSizes = describe.skipIf(browserPath === null).each(SIZES);

atBothSizes('a blinded round, $size', ({ size, viewport }) => {
  let lab: Awaited<ReturnType<typeof servedLaboratory>>;
  let browser: Browser;
  let page: Page;
  const asked: Request[] = [];
  const evidence = () => `${lab.address}/studies/${lab.study.id}/evidence`;

  /** A run of known material, whose pieces are on a photograph of their own. */
  async function filterOfKnownPieces() {
    const tools = { records: lab.laboratory.records, clock: systemClock, names: systemNames };
    const run = given(
      await recordRun(tools, {
        study: lab.study.id,
        edition: lab.edition.id,
        kind: 'known-material',
        name: 'M1',
        portion: null,
        spike: null,
        day: '2026-01-05',
        session: '1',
        by: lab.person.id,
        note: '',
      }),
    );
    const { id: _, run: __, madeAt: ___, ...like } = lab.filters[0]!;
    return given(await layFilter(tools, { ...like, run: run.id, name: 'filter M1' }));
  }

  beforeAll(async () => {
    await buildScreens();
    lab = await servedLaboratory(SCREENS);
    browser = await openBrowser(browserPath!);
    const photos: string[] = [];
    const filters = [...lab.filters.slice(0, 5), await filterOfKnownPieces()];
    for (const [at, pieces] of [14, 12, 6, 5, 4, 24].entries()) {
      const { json } = await lab.put(filters[at]!.id, `${pieces} pieces.jpg`, await photograph(at + 1));
      photos.push(json.photo.id);
      await lab.searched(json.photo.id);
    }
    await lab.ask('POST', '/api/people', { name: 'Ben Example' });
    const known = (await lab.ask('GET', `/api/photos/${photos[5]}/particles`)).json.particles;
    const made = await lab.ask('POST', `/api/studies/${lab.study.id}/known-sets`, {
      name: 'Known pieces',
      made: 'invented',
      pieces: known.map((particle: { id: string }, at: number) => ({
        key: `K${at + 1}`,
        material: at % 2 === 0 ? 'polyethylene' : 'cotton',
        class: at % 2 === 0 ? 'thermoplastic' : 'natural-fibre',
        shape: 'fragment',
        colour: 'blue',
        size_um: 175,
        particle: particle.id,
      })),
    });
    expect(made.status).toBe(200);
    page = await (await browser.newContext({ viewport, hasTouch: size === 'phone' })).newPage();
    page.on('request', (request) => asked.push(request));
  });
  afterAll(async () => {
    await browser?.close();
    await lab?.close();
  });

  const claim = async () => (await lab.ask('GET', `/api/studies/${lab.study.id}/claim`)).json;
  let before: { sentence: string };
  let round: string;

  it('is sealed: a hash is shown, and nothing of the key', async () => {
    before = await claim();
    await page.goto(evidence());
    await page.getByRole('button', { name: 'Seal a round' }).click();
    await page.getByLabel('Second scorer').selectOption({ label: 'Ben Example' });
    await page.getByLabel('At most of each side').fill('8');
    await page.getByLabel('Guess on').fill('50');
    await page.getByRole('button', { name: 'Seal', exact: true }).click();
    await page.getByText('The key is sealed').waitFor();
    round = /round-([0-9a-f-]+)/.exec(page.url())![1]!;
    const sealed = (await lab.ask('GET', `/api/rounds/${round}`)).json;
    expect(sealed).toMatchObject({ stage: 'scoring', pictures: 24, outcome: null, seed: null });
    expect(sealed.key_hash).toMatch(/^[0-9a-f]{64}$/);
    expect(await faultsOf(page)).toEqual([]);
    const early = await lab.ask('POST', `/api/rounds/${round}/open`, { without_third: true });
    expect(early).toMatchObject({ status: 422, json: { refusal: { why: 'not-locked' } } });
  });

  // At a desk by keys alone, on a telephone by taps.
  const guess = (at: 0 | 1) =>
    size === 'wide'
      ? page.keyboard.press(at === 0 ? '1' : '2')
      : page.locator('.guess-buttons button').nth(at).tap();
  const call = (say: 'p' | 'o') =>
    size === 'wide'
      ? page.keyboard.press(say)
      : page
          .locator('.call-buttons:not(.guess-buttons) button')
          .nth(say === 'p' ? 0 : 1)
          .tap();

  const score = async (person: string, say: (code: string) => 'p' | 'o') => {
    await page.goto(`${evidence()}/round-${round}`);
    await page.locator('.who-works select').selectOption({ label: person });
    await page.getByRole('link', { name: 'Begin' }).click();
    asked.length = 0;
    let last = '';
    for (let at = 0; at < 60; at++) {
      await page.waitForFunction(
        (known) => {
          const shown = document.querySelector('.score-picture figcaption')?.textContent ?? '';
          const end = document.querySelector('.score-end');
          const place = document.querySelector('.score-head span')?.textContent ?? '';
          return end !== null || (shown !== '' && `${shown} ${place}` !== known);
        },
        last,
        { timeout: 60_000 },
      );
      if ((await page.locator('.score-end').count()) > 0) break;
      const caption = (await page.locator('.score-picture figcaption').textContent())!;
      last = `${caption} ${await page.locator('.score-head span').first().textContent()}`;
      const text = (await page.locator('main').textContent())!;
      for (const run of lab.runs) expect(text).not.toContain(run.name);
      const code = caption.split(',')[0]!;
      if (at === 3) await picture(page, `round-${size}`);
      // the guess first, so that the call ends the picture
      if ((await page.locator('.guess-buttons').count()) > 0) await guess(/[BCDF]$/.test(code) ? 0 : 1);
      await call(say(code));
    }
    expect(asked.filter((request) => request.url().includes('/pictures/')).length).toBeGreaterThan(20);
    // what the scorer's pages ask for names neither photographs nor particles, filters nor the key
    for (const request of asked.filter((one) => one.url().includes('/api/rounds/'))) {
      expect(request.url()).toMatch(
        /\/api\/rounds\/[0-9a-f-]+\/(scoring(\?place=\d+)?|pictures\/[A-Z0-9]{4}|readings)$/,
      );
    }
    await page.getByRole('button', { name: 'Lock my readings' }).click();
    await page.getByText('Your readings are locked').waitFor();
  };

  it('is scored by two people apart', async () => {
    await score('Ada Example', first);
    const sealed = (await lab.ask('GET', `/api/rounds/${round}`)).json;
    expect(sealed.outcome).toBeNull();
    expect(JSON.stringify(sealed)).not.toContain('K1');
    await score('Ben Example', second);
  });

  it('opens once, after an expectation was written down', async () => {
    await page.goto(`${evidence()}/round-${round}`);
    await page.getByText('locked, ready to be opened').waitFor();
    await expect.poll(() => page.getByRole('button', { name: 'Open the key' }).isDisabled()).toBe(true);
    await page
      .getByLabel('What do you expect?', { exact: false })
      .fill('about twice as many as in the controls');
    await page.getByRole('button', { name: 'Write it down' }).click();
    await page.getByText('before the opening').waitFor();
    await page.getByRole('button', { name: 'Open the key' }).click();
    await page.getByText('The key is open').waitFor();
    const again = await lab.ask('POST', `/api/rounds/${round}/open`, { without_third: false });
    expect(again.json.refusal.message).toMatch(/was opened by Ben Example on .* a key is opened once/);
  });

  it('shows agreement, the blind, and the known pieces', async () => {
    const main = page.locator('main');
    await main.getByRole('heading', { name: 'How far the two agree' }).waitFor();
    for (const heading of [
      'Did the blind hold?',
      'Known pieces that were slipped in',
      'What the pictures were taken for',
    ]) {
      expect(await main.getByRole('heading', { name: heading }).count()).toBe(1);
    }
    const { outcome } = (await lab.ask('GET', `/api/rounds/${round}`)).json;
    expect(outcome.agreement.pictures).toBe(24);
    const disagree = outcome.key.filter(({ code }: { code: string }) => first(code) !== second(code)).length;
    expect(outcome.agreement.same).toBe(24 - disagree);
    for (const scorer of outcome.scorers) {
      // as many known pieces as make a third of the pictures, of both kinds
      expect(scorer.known_plastic.n + scorer.known_others.n).toBe(8);
      expect(scorer.leak.guessed).toBeGreaterThan(0);
      // the code tells them nothing, so what is shown twice is called the same
      expect(scorer.repeats.same).toBe(scorer.repeats.pictures);
    }
    expect(await faultsOf(page)).toEqual([]);
  });

  it('changes the claim, and says what stays undecided', async () => {
    await page.getByRole('button', { name: 'Take it over as marks' }).click();
    await page.getByText('Its decisions are marks now').waitFor();
    const after = await claim();
    expect(after.sentence).not.toBe(before.sentence);
    const { outcome } = (await lab.ask('GET', `/api/rounds/${round}`)).json;
    // pieces of the blank that stands aside from the claim (B1) do not move it
    const undecided = outcome.key.filter(
      (card: { side: string; run: string; taken_for: string }) =>
        card.side !== 'known' && card.run !== 'B1' && card.taken_for === 'undecided',
    ).length;
    const { held_back } = (await lab.ask('GET', `/api/studies/${lab.study.id}/standing`)).json;
    const note = held_back.find((held: { why: string }) => held.why === 'pieces-undecided');
    if (undecided > 0) expect(note.message).toContain(`${undecided} piece`);
    else expect(note).toBeUndefined();
    const { drills } = (await lab.ask('GET', `/api/studies/${lab.study.id}/evidence`)).json;
    expect(drills[0]).toMatchObject({
      test: 'by-eye',
      slipped_in: { plastic: { n: 8 }, others: { n: 8 } },
    });
    await page.getByRole('link', { name: 'the claim' }).click();
    await page.locator('.claim-sentence').waitFor();
  });

  it('leaves drills that can be taken back and put back on the page', async () => {
    const rates = async () => (await lab.ask('GET', `/api/studies/${lab.study.id}/evidence`)).json.drills[0];
    const before = await rates();
    await page.goto(`${evidence()}/drills`);
    const sitting = page.locator('.drill-record > li').first();
    await sitting.getByRole('button', { name: 'Take it back' }).click();
    await sitting.getByText('taken back').waitFor();
    expect((await rates()).plastic.n).toBe(before.plastic.n / 2);
    expect(await faultsOf(page)).toEqual([]);
    await sitting.getByRole('button', { name: 'Put it back' }).click();
    await sitting.getByRole('button', { name: 'Take it back' }).waitFor();
    await sitting.getByText('Piece by piece').click();
    await sitting.getByRole('button', { name: 'Take back' }).first().click();
    await sitting.getByText('; 1 taken back').waitFor();
    const { plastic, others } = await rates();
    expect(plastic.n + others.n).toBe(before.plastic.n + before.others.n - 1);
  });

  it('of fields is scored by lines drawn over the pieces, taps, and second thoughts', async () => {
    await page.goto(evidence());
    await page.getByRole('button', { name: 'Seal a round' }).click();
    await page.getByLabel('What is scored').selectOption('fields');
    await page.getByLabel('First scorer').selectOption({ label: 'Ada Example' });
    await page.getByLabel('Second scorer').selectOption({ label: 'Ben Example' });
    await page.getByLabel('Fields of each side').fill('2');
    await page.getByLabel('Guess on').fill('0');
    await page.getByLabel('Show twice').fill('0');
    await page.getByRole('button', { name: 'Seal', exact: true }).click();
    await page.getByText('The key is sealed').waitFor();
    await page.waitForURL(/round-[0-9a-f-]+/);
    const fields = /round-([0-9a-f-]+)/.exec(page.url())![1]!;
    // Ben draws a tenth longer and does not see the tapped piece
    await drawOn(fields, 'Ada Example', 0.2, true);
    await drawOn(fields, 'Ben Example', 0.22, false);
    await page.goto(`${evidence()}/round-${fields}`);
    await page.getByLabel('What do you expect?', { exact: false }).fill('nothing');
    await page.getByRole('button', { name: 'Write it down' }).click();
    await page.getByRole('button', { name: 'Open the key' }).click();
    await page.getByText('The key is open').waitFor();
    const { outcome } = (await lab.ask('GET', `/api/rounds/${fields}`)).json;
    const n = outcome.fields.fields;
    expect(n).toBeGreaterThan(1);
    expect(outcome.fields).toMatchObject({ first: 2 * n, second: n, both: n, overlap: 0.5 });
    expect(outcome.fields.sizes.pairs).toBe(n);
    expect(outcome.fields.sizes.ratio).toBeCloseTo(0.2 / 0.22, 1);
    expect(await faultsOf(page)).toEqual([]);
  });

  /** On every field a line of this part of the side, and a tap that is taken back, or kept as “cannot tell”. */
  const drawOn = async (fields: string, person: string, length: number, keepsTap: boolean) => {
    await page.goto(`${evidence()}/round-${fields}`);
    await page.locator('.who-works select').selectOption({ label: person });
    await page.getByRole('link', { name: 'Begin' }).click();
    let last = '';
    for (let at = 0; at < 12; at++) {
      await page.waitForFunction(
        (known) =>
          document.querySelector('.score-end') !== null ||
          ![known, '', undefined].includes(
            document.querySelector('.score-picture figcaption')?.textContent ?? '',
          ),
        last,
      );
      if ((await page.locator('.score-end').count()) > 0) break;
      last = (await page.locator('.score-picture figcaption').textContent())!;
      const field = page.locator('.score-field');
      const box = (await field.boundingBox())!;
      const to = (x: number, y: number) => page.mouse.move(box.x + x * box.width, box.y + y * box.height);
      await to(0.4, 0.5);
      await page.mouse.down();
      await to(0.4 + length / 2, 0.5);
      // The line under the pointer beside the one that stays: drawn in the next frame.
      await field.locator('.found-lines line').nth(1).waitFor({ state: 'attached' });
      expect(await field.locator('.found-lines line').count()).toBe(2);
      await to(0.4 + length, 0.5);
      await page.mouse.up();
      await page.getByText('1 piece so far').waitFor();
      const tap = () => page.mouse.click(box.x + 0.3 * box.width, box.y + 0.3 * box.height);
      await tap();
      await page.getByText('2 pieces so far').waitFor();
      await tap();
      await field.locator('.found-point.is-cannot-tell').waitFor();
      if (!keepsTap) {
        await tap();
        await page.getByText('1 piece so far').waitFor();
      }
      if (at === 0) expect(await faultsOf(page)).toEqual([]);
      await page.keyboard.press('Enter');
    }
    await page.getByRole('button', { name: 'Lock my readings' }).click();
    await page.getByText('Your readings are locked').waitFor();
  };
});
