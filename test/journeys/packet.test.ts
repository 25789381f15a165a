/** A second opinion in a real browser: a packet goes out, is answered from disk without a network, and comes back as text. */
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawn } from './broken-photos.ts';
import { servedLaboratory } from './served-laboratory.ts';
import { buildScreens, faultsOf, foundBrowser, openBrowser, picture, SIZES } from './web-laboratory.ts';

const browserPath = foundBrowser();
if (browserPath === null)
  process.stdout.write('packet journey skipped: no Chromium found; set CHROME_PATH to one.\n');

const atBothSizes = describe.skipIf(browserPath === null).each(SIZES);

atBothSizes('a packet for a second opinion, $size', ({ size, viewport }) => {
  let lab: Awaited<ReturnType<typeof servedLaboratory>>;
  let browser: Browser;
  let page: Page;
  let folder: string;
  let file: string;
  let reader: string;
  let round: { id: string; key_hash: string };
  let text: string;
  const roundPage = () => `${lab.address}/studies/${lab.study.id}/evidence/round-${round.id}`;

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'retentate-packet-'));
    file = join(folder, 'packet.html');
    await buildScreens();
    lab = await servedLaboratory(fileURLToPath(new URL('../../dist/web', import.meta.url)));
    browser = await openBrowser(browserPath!);
    page = await (await browser.newContext({ viewport })).newPage();
    for (const [at, pieces] of [9, 7, 4, 3].entries()) {
      const bytes = await drawn(900 + at, 640)
        .jpeg()
        .toBuffer();
      const { json } = await lab.put(lab.filters[at]!.id, `${pieces} pieces.jpg`, bytes);
      await lab.searched(json.photo.id);
    }
    reader = (await lab.ask('POST', '/api/people', { name: 'Outside Reader' })).json.id;
    const sealed = await lab.ask('POST', `/api/studies/${lab.study.id}/rounds`, {
      name: 'Second opinion',
      what: 'pieces',
      scorers: [lab.person.id, reader],
      most_of_each: 6,
      decisive: true,
      guess_share: 0.5,
    });
    expect(sealed.status, sealed.text).toBe(200);
    round = sealed.json;
  });
  afterAll(async () => {
    await browser?.close();
    await lab?.close();
    await rm(folder, { recursive: true, force: true });
  });

  it('goes out from the page of the round as one file without the key', async () => {
    await page.goto(roundPage());
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('link', { name: 'Packet for Outside Reader' }).click(),
    ]);
    await download.saveAs(file);
    const packet = await readFile(file, 'utf8');
    for (const told of [...lab.runs, ...lab.filters]) {
      expect(packet).not.toContain(told.id);
      expect(packet).not.toMatch(new RegExp(`\\b${told.name}\\b`));
    }
    expect(packet).toContain(round.key_hash);
    expect(packet).not.toMatch(/(?:src|href)="(?!data:)/);
    const stranger = await lab.ask('GET', `/api/rounds/${round.id}/packet?reader=${lab.study.id}`);
    expect(stranger.json.refusal.why).toBe('no-such-person');
  });

  it('is answered from disk without a network, by keys, and keeps what was answered', async () => {
    const context = await browser.newContext({ viewport, offline: true });
    const shown = await context.newPage();
    const faults: string[] = [];
    shown.on('pageerror', (error) => faults.push(error.message));
    shown.on('request', (request) => {
      if (!/^(file|data):/.test(request.url())) faults.push(request.url());
    });
    await shown.goto(pathToFileURL(file).href);
    expect(await faultsOf(shown)).toEqual([]);
    await picture(shown, `packet-${size}`);
    const many = await shown.locator('.card[data-code]').count();
    expect(many).toBeGreaterThanOrEqual(12);
    const visible = shown.locator('.card:not([hidden])');
    for (let k = 0; k < many; k++) {
      const own = await visible.getAttribute('id');
      await shown.keyboard.press(k % 4 === 3 ? '3' : k % 2 === 0 ? '1' : '2');
      if ((await visible.getAttribute('data-guess')) === 'true')
        await shown.keyboard.press(k % 2 === 0 ? '4' : '5');
      await shown.waitForFunction((id) => document.querySelector('.card:not([hidden])')?.id !== id, own);
      if (k === 3) await shown.reload();
      if (k === 3) for (let n = 0; n < 4; n++) await shown.getByRole('button', { name: 'Next →' }).click();
    }
    await shown.getByText('All pictures are answered').waitFor();
    text = await shown.getByLabel('Answers as text').inputValue();
    expect(text.split('\n').length).toBe(4 + many + 2);
    expect(faults).toEqual([]);
    await context.close();
  });

  it('comes back as the reader’s own readings, locked; a changed text and a second one are refused', async () => {
    await page.goto(roundPage());
    const paste = async (answers: string) => {
      await page.getByLabel(/Answers that came back/).fill(answers);
      await page.getByRole('button', { name: 'Take them in' }).click();
    };
    const main = page.locator('main');
    await paste(text.replace(' plastic', ' other'));
    await main.getByText('changed or lost').waitFor();
    await paste(`Dear all,\n> ${text.replaceAll('\n', '\n> ')}\n`);
    await main.getByText(/brought in by/).waitFor();
    const { json } = await lab.ask('GET', `/api/rounds/${round.id}`);
    const own = json.scorers.find((one: { person: string }) => one.person === reader);
    expect(own).toMatchObject({ locked: true, done: own.of });
    expect(json.events.at(-1)).toMatchObject({ deed: 'lock', by: 'Outside Reader' });
    await picture(page, `packet-back-${size}`);
    expect(await faultsOf(page)).toEqual([]);
    const again = await lab.ask('POST', '/api/answers', { text });
    expect(again.json.refusal.why).toBe('locked');
  });
});
