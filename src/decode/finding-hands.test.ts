import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawn } from '../../test/journeys/broken-photos.ts';
import { classicalFinder, type FindWish } from '../science/imaging/index.ts';
import { umPerPx } from '../units/index.ts';
import { decodePhoto } from './decode-photo.ts';
import { findingHands } from './finding-hands.ts';
import { readHead } from './photo-head.ts';
import { dismissHands, searchPhoto } from './search-photo.ts';

const wish: FindWish = {
  scale: { from: 'given', scale: umPerPx(10) },
  smallest: null,
  falseFindsPerBlank: 0.5,
};

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'retentate-hands-'));
});
afterAll(async () => {
  await dismissHands();
  await rm(folder, { recursive: true, force: true });
});

describe('hands on one photograph', () => {
  it('find on several threads what one thread finds, to the last digit, photograph after photograph', {
    timeout: 120_000,
  }, async () => {
    for (const [width, height] of [
      [1000, 300],
      [300, 200],
    ] as const) {
      const path = join(folder, `${width}.png`);
      await writeFile(path, await drawn(width, height).png().toBuffer());
      const head = await readHead(path, 'dots.png');
      if (!head.ok) throw new Error(head.refusal.message);
      const picture = await decodePhoto(path, 'dots.png', head.value);
      if (!picture.ok) throw new Error(picture.refusal.message);
      const alone = classicalFinder.find(picture.value, wish);
      expect(alone.particles.length).toBeGreaterThan(0);
      const searched = await searchPhoto({ path, name: 'dots.png', wish, hands: 2 }, () => {});
      if (!searched.ok) throw new Error(searched.refusal.message);
      expect(JSON.stringify(searched.value.finding)).toBe(JSON.stringify(alone));
    }
  });

  it('need a whole number of helpers', () => {
    expect(() => findingHands(-1)).toThrow(RangeError);
    expect(() => findingHands(1.5)).toThrow(RangeError);
  });
});
