/** A second opinion in a real browser: a packet goes out, is answered from disk without a network, and comes back as text. */
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawn } from './broken-photos.ts';
import { servedLaboratory } from './served-laboratory.ts';
import { faultsOf, foundBrowser, openBrowser } from './web-laboratory.ts';

const browserPath = foundBrowser();
if (browserPath === null)
  process.stdout.write('packet journey skipped: no Chromium found; set CHROME_PATH to one.\n');

describe.skipIf(browserPath === null)('a packet for a second opinion', () => {
  let lab: Awaited<ReturnType<typeof servedLaboratory>>;
  let browser: Browser;
  let folder: string;
  let reader: string;
  let round: { id: string; key_hash: string };
  let page: string;
  let text: string;

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'retentate-packet-'));
    lab = await servedLaboratory();
    browser = await openBrowser(browserPath!);
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

  it('goes out as one page without the key', async () => {
    const answer = await lab.ask('GET', `/api/rounds/${round.id}/packet?reader=${reader}`);
    expect(answer.status).toBe(200);
    expect(answer.headers['content-disposition']).toContain('attachment');
    page = answer.text;
    for (const told of [...lab.runs, ...lab.filters]) {
      expect(page).not.toContain(told.id);
      expect(page).not.toMatch(new RegExp(`\\b${told.name}\\b`));
    }
    expect(page).toContain(round.key_hash);
    expect(page).not.toMatch(/(?:src|href)="(?!data:)/);
    const stranger = await lab.ask('GET', `/api/rounds/${round.id}/packet?reader=${lab.study.id}`);
    expect(stranger.json.refusal.why).toBe('no-such-person');
  });

  it('is answered from disk without a network, by keys, and keeps what was answered', async () => {
    const file = join(folder, 'packet.html');
    await writeFile(file, page);
    const context = await browser.newContext({ viewport: { width: 390, height: 844 }, offline: true });
    const shown = await context.newPage();
    const faults: string[] = [];
    shown.on('pageerror', (error) => faults.push(error.message));
    shown.on('request', (request) => {
      if (!/^(file|data):/.test(request.url())) faults.push(request.url());
    });
    await shown.goto(pathToFileURL(file).href);
    expect(await faultsOf(shown)).toEqual([]);
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
    const changed = await lab.ask('POST', '/api/answers', { text: text.replace(' plastic', ' other') });
    expect(changed.json.refusal.message).toContain('changed or lost');
    const taken = await lab.ask('POST', '/api/answers', {
      text: `Dear all,\n> ${text.replaceAll('\n', '\n> ')}\n`,
    });
    expect(taken.json).toMatchObject({ round: 'Second opinion', reader: 'Outside Reader', locked: true });
    const { json } = await lab.ask('GET', `/api/rounds/${round.id}`);
    const own = json.scorers.find((one: { person: string }) => one.person === reader);
    expect(own).toMatchObject({ locked: true, done: own.of });
    expect(json.events.at(-1)).toMatchObject({ deed: 'lock', by: 'Outside Reader' });
    expect(json.events.at(-1).says).toContain('brought in by');
    const again = await lab.ask('POST', '/api/answers', { text });
    expect(again.json.refusal.why).toBe('locked');
  });
});
