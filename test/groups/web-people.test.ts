/** Accounts in a real browser: a code, a name that is here already, passwords, and the page of whoever scores alone. */
import type { Browser, Page } from 'playwright-core';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawPhotograph } from '../../demo/drawing/photograph.ts';
import { recipeFor } from '../../demo/photographs/recipe.ts';
import {
  buildScreens,
  faultsOf,
  foundBrowser,
  openBrowser,
  picture,
  SIZES,
} from '../journeys/web-laboratory.ts';
import { type Group, type Person, startGroup } from './group.ts';
import { bring, isOver, makeStudy, searches } from './group-study.ts';
import { passwordOf } from './person.ts';
import { postgresPrograms } from './postgres-server.ts';

const NEW = 'parsnip kettle window';
const browserPath = foundBrowser();
const there = postgresPrograms() !== null && browserPath !== null;
if (!there) process.stdout.write('people in a browser skipped: PostgreSQL or Chromium is missing.\n');

async function photograph(k: number): Promise<Uint8Array> {
  const filter = {
    ...{ name: `people ${k}`, run: 'people', kind: 'worn-board' as const, session: 1 as const, spiked: null },
    ...{ synthetic: 20, tissue: 4, passed: 1, clogged: false, handle: 'green' as const },
  };
  const { width, height, pixels } = drawPhotograph(recipeFor(filter, k));
  return sharp(pixels, { raw: { width, height, channels: 3 } })
    .jpeg({ quality: 92 })
    .toBuffer();
}

describe.skipIf(!there)('people of a group', () => {
  let group: Group;
  let owner: Person;
  let browser: Browser;

  beforeAll(async () => {
    await buildScreens();
    // Drawn before anything is asked: a connection that nobody serves meanwhile would be closed by the server.
    const photos = [await photograph(1), await photograph(2)];
    group = await startGroup();
    owner = await group.person('Olga Owner', group.firstCode);
    await group.person('Sam Scorer', await group.invite(owner, 'scorer'));
    await owner.ask('POST', '/api/people', { name: 'Paula Past' });
    const study = await makeStudy(owner, 'Worn chopping boards', 1, 1);
    const worker = await group.worker();
    for (const [k, filter] of study.filters.entries()) {
      await bring(owner, filter, photos[k]!, `photo ${k + 1}.jpg`);
    }
    // `expect.poll` is for tests alone; the hook's own limit ends a search that never does.
    while ((await searches(owner)).filter(isOver).length < 2) await new Promise((on) => setTimeout(on, 200));
    await worker.stop();
    const people = (await owner.ask('GET', '/api/people')).json.people as { id: string; name: string }[];
    const scorers = people.filter(({ name }) => /Olga|Sam/.test(name)).map(({ id }) => id);
    const rounds = `/api/studies/${study.id}/rounds`;
    for (const name of ['Large round', ...SIZES.map(({ size }) => `Small ${size} round`)]) {
      const most_of_each = name.startsWith('Small') ? 2 : null;
      const wish = { name, what: 'pieces', scorers, most_of_each, guess_share: 0, again_share: 0 };
      const made = await owner.ask('POST', rounds, wish);
      expect(made.status, JSON.stringify(made.json)).toBe(200);
    }
    await makeStudy(owner, 'New boards', 1);
    browser = await openBrowser(browserPath!);
  });
  afterAll(async () => {
    await browser?.close();
    await group?.close();
  });

  describe.each(SIZES)('$size', ({ size, viewport }) => {
    const opened = async (path = '/'): Promise<Page> => {
      const context = await browser.newContext({ viewport, hasTouch: size === 'phone' });
      const page = await context.newPage();
      await page.goto(group.address + path);
      return page;
    };
    const signIn = async (page: Page, login: string, password: string): Promise<void> => {
      await page.getByLabel('Login').fill(login);
      await page.getByLabel('Password').fill(password);
      await page.getByRole('button', { name: 'Sign in' }).click();
    };
    /** Nothing that axe holds against it, nothing beside the page, in either light. */
    const looksRight = async (page: Page, name: string): Promise<void> => {
      await page.getByRole('heading', { level: 1 }).waitFor();
      for (const light of ['Light', 'Dark']) {
        const button = page.getByRole('button', { name: `${light} page` });
        if (await button.isVisible()) await button.click();
        expect(await faultsOf(page), `${name}, ${light}`).toEqual([]);
        const beside = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        expect(beside, `${name}, ${light}`).toBeLessThanOrEqual(0);
        await picture(page, `people-${name}-${light}-${size}`.toLowerCase());
      }
    };

    it('lets somebody in whose records are here, lets them change the password, and takes a code back', async () => {
      const name = size === 'wide' ? 'Paula Past' : 'Rosa Records';
      await owner.ask('POST', '/api/people', { name });
      const page = await opened('/people');
      await signIn(page, 'olga.owner', passwordOf('Olga Owner'));
      await page.getByLabel('In whose name').selectOption({ label: `${name}, in the records already` });
      await page.getByRole('button', { name: 'Make a code' }).click();
      const code = await page.locator('.enter .code').textContent();
      const take = page.getByRole('button', { name: `Take back: ${name}, as bench` });
      await take.waitFor();
      await page.getByLabel('For whom').fill('the Tuesday group');
      await page.getByLabel('In whose name').selectOption({ label: 'somebody new' });
      await page.getByRole('button', { name: 'Make a code' }).click();
      await looksRight(page, 'people');
      await page.getByRole('button', { name: 'Take back: the Tuesday group, as bench' }).click();
      await page.getByText('used, taken back or run out').click();
      await page.getByText('was taken back').first().waitFor();

      const other = await opened('/join');
      await other.getByLabel('Code').fill(code!);
      await other.getByLabel('Login').fill(`login.${size}`);
      await other.getByLabel('Password').fill('carrot knife board glass');
      await looksRight(other, 'join');
      await other.getByRole('button', { name: 'Join' }).click();
      await other.getByRole('link', { name: `Your account: ${name}, bench` }).click();
      await other.getByLabel('Old password').fill('not the right one at all');
      await other.getByLabel('New password').fill(NEW);
      await other.getByRole('button', { name: 'Change it' }).click();
      await other.getByText('The old password is not right').waitFor();
      await other.getByLabel('Old password').fill('carrot knife board glass');
      await other.getByLabel('Show it').check();
      await looksRight(other, 'account');
      await other.getByRole('button', { name: 'Change it' }).click();
      await other.getByText('The password is changed.').waitFor();

      // Forgotten all the same: an owner gives a code.
      await page.reload();
      const row = page.getByRole('listitem').filter({ hasText: `login.${size}` });
      await row.getByRole('button', { name: 'Forgot the password' }).click();
      const way = await row.locator('.code').textContent();
      await looksRight(page, 'people-forgot');
      const third = await opened('/');
      await looksRight(third, 'sign-in');
      await third.getByRole('link', { name: 'set a new one' }).click();
      await third.getByLabel('Code').fill(way!);
      await third.getByLabel('New password').fill('window kettle parsnip');
      await looksRight(third, 'new-password');
      await third.getByRole('button', { name: 'Set the password' }).click();
      await third.getByRole('link', { name: `Your account: ${name}, bench` }).waitFor();
      await other.reload();
      await other.getByRole('heading', { name: 'Sign in' }).waitFor();
    });

    it('lets whoever scores alone read and lock a round, and shows and asks for nothing else', async () => {
      const page = await opened();
      await signIn(page, 'sam.scorer', passwordOf('Sam Scorer'));
      await page.getByRole('heading', { name: 'To score' }).waitFor();
      const declined: string[] = [];
      page.on('response', (answer) => {
        // What happens in the laboratory is not told to them; the page asks now and then whether it is.
        const told = answer.url().endsWith('/api/progress');
        if (answer.status() >= 400 && !told) declined.push(`${answer.status()} ${answer.url()}`);
      });
      const own = `Small ${size} round`;
      await looksRight(page, 'to-score');
      await page.getByRole('link', { name: own }).click();
      await page.getByText('1 of 4').waitFor();
      await page.locator('main img').first().waitFor();
      await looksRight(page, 'scoring');
      expect(await page.getByRole('link', { name: 'Filters' }).count()).toBe(0);
      for (let k = 1; k <= 4; k++) {
        await page.getByText(`${k} of 4`, { exact: true }).waitFor();
        await page.getByRole('button', { name: k % 2 === 0 ? 'Not plastic' : /^Plastic/ }).click();
      }
      await page.getByRole('heading', { name: 'All is read' }).waitFor();
      await page.getByRole('link', { name: 'To score' }).first().click();
      await page.getByText('all 4 read, not locked yet').waitFor();
      await page.getByRole('link', { name: own }).click();
      await page.getByRole('button', { name: 'Lock my readings' }).click();
      await page.getByRole('heading', { name: 'Your readings are locked' }).waitFor();
      await looksRight(page, 'locked');
      await page.getByRole('link', { name: 'To score' }).first().click();
      await page.getByRole('heading', { name: 'Read and locked' }).waitFor();
      await page.getByText('your readings are locked').first().waitFor();
      await looksRight(page, 'to-score-after');
      expect(declined).toEqual([]);
    });
  });
});
