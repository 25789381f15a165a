/** `retentate find` from the command line: bad files among good ones, odd names, what is written. */
import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { FalseFindsJson, FindingJson } from '../../src/api/index.ts';
import { brokenPhotos, drawn, ODD_NAMES } from './broken-photos.ts';
import { findings, retentate } from './command.ts';

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'retentate-find-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

describe('find on bad files among good ones', () => {
  it('answers for each, refuses the bad ones in a sentence, and goes on', async () => {
    const mixed = join(folder, 'mixed');
    await mkdir(mixed);
    const broken = await brokenPhotos();
    for (const { name, bytes } of broken) await writeFile(join(mixed, name), bytes);
    const good = await drawn(500, 400).jpeg({ quality: 95 }).toBuffer();
    for (const name of [...ODD_NAMES, 'good.jpg']) await writeFile(join(mixed, name), good);
    const words = [
      'find',
      mixed,
      join(mixed, 'drawing.svg'),
      '../no/such/photo.jpg',
      '--scale',
      '5um/px',
      '--json',
    ];
    const { status, out } = await retentate(words, folder);
    expect(status).toBe(1);
    const found = findings(out);
    const byName = new Map(found.map((finding) => [finding.photo.name, finding]));
    for (const { name, why, says } of broken) {
      const refusal = byName.get(name)?.refusal;
      expect(refusal?.why, name).toBe(why);
      expect(refusal?.message, name).toMatch(says);
    }
    expect(byName.get('photo.jpg')).toMatchObject({ refusal: { why: 'not-found' }, photo: { sha256: null } });
    for (const name of [...ODD_NAMES, 'good.jpg']) {
      expect(byName.get(name), name).toMatchObject({
        refusal: null,
        photo: { width_px: 500, height_px: 400 },
        scale: { um_per_px: 5, basis: 'given' },
      });
      expect(byName.get(name)!.particles.length, name).toBeGreaterThan(0);
    }
    // The same photograph gives the same finding, whatever its name and whichever core searched it.
    const [first, ...others] = ODD_NAMES.map((name) => byName.get(name)!.particles);
    for (const other of others) expect(other).toEqual(first);
  });

  it('prints names that could break a line on one line', async () => {
    const odd = join(folder, 'odd');
    await mkdir(odd);
    await writeFile(join(odd, 'two\nlines\u001b[31m.jpg'), 'no photo');
    const { status, out } = await retentate(['find', odd], folder);
    expect(status).toBe(1);
    expect(out.trimEnd().split('\n')).toHaveLength(1);
    expect(out).not.toContain('\u001b');
  });

  it('without a scale gives particles in pixels and says that there is no scale', async () => {
    const path = join(folder, 'plain.png');
    await writeFile(path, await drawn(500, 400).png().toBuffer());
    const { status, out } = await retentate(['find', path, '--json'], folder);
    expect(status).toBe(0);
    const [finding] = findings(out);
    expect(finding).toMatchObject({ scale: null, refusal: { why: 'no-scale' } });
    expect(finding!.particles.length).toBeGreaterThan(0);
    for (const p of finding!.particles) {
      expect(p).toMatchObject({
        area_um2: null,
        feret_max_um: null,
        perimeter_um: null,
        equivalent_diameter_um: null,
      });
      expect(p.feret_max_px).toBeGreaterThan(0);
    }
  });

  it('writes outlined pictures and particles where it is told, under names fit for any disk', async () => {
    const [photos, out] = [join(folder, 'for-out'), join(folder, 'out')];
    await mkdir(photos);
    const good = await drawn(500, 400).jpeg().toBuffer();
    for (const name of ['a.jpg', '-b:c.jpg']) await writeFile(join(photos, name), good);
    const { status } = await retentate(['find', photos, '--scale', '5um/px', '--out', out], folder);
    expect(status).toBe(0);
    expect((await readdir(out)).sort()).toEqual([
      '_b_c.outlines.jpg',
      '_b_c.particles.json',
      'a.outlines.jpg',
      'a.particles.json',
    ]);
    FindingJson.parse(JSON.parse(await readFile(join(out, 'a.particles.json'), 'utf8')));
  });

  it('an empty folder, and a name with a dash in front', async () => {
    const empty = join(folder, 'empty');
    await mkdir(empty);
    expect(await retentate(['find', empty], folder)).toMatchObject({
      status: 1,
      err: expect.stringContaining('no photographs'),
    });
    await writeFile(join(folder, '-x.jpg'), await drawn(400, 300).jpeg().toBuffer());
    expect((await retentate(['find', './-x.jpg', '--json'], folder)).status).toBe(0);
    expect((await retentate(['find', '-x.jpg'], folder)).status).toBe(2);
  });
});

describe('find on photographs of bare membrane', () => {
  it('tells what the setting gives there, and refuses to choose one from too few', async () => {
    const bare = join(folder, 'bare');
    await mkdir(bare);
    for (const name of ['a.jpg', 'b.jpg']) {
      await writeFile(join(bare, name), await drawn(500, 400).jpeg({ quality: 95 }).toBuffer());
    }
    const words = ['find', '--blanks', bare, '--scale', '5um/px', '--false-finds', '1'];
    const { status, out } = await retentate([...words, '--json'], folder);
    expect(status).toBe(1);
    const told = FalseFindsJson.parse(JSON.parse(out));
    expect(told).toMatchObject({ photographs: 2, searched: 2, wanted: 1, ask: null });
    expect(told.because).toMatch(/below 3\.0\/n .* For 1 at least 3 are needed/);
    // The drawn pieces are what a bare membrane should not show: all of them count as false.
    const [rate, ...more] = told.rates;
    expect(more).toEqual([]);
    expect(rate!.most).toBe(rate!.false_finds / 2);
    expect(rate!.most).toBeGreaterThan(0);
    expect(rate!.upper).toBeGreaterThan(rate!.most);
    const read = await retentate(words, folder);
    expect(read.out).toMatch(/^2 blank photographs searched; every find on them counts as false\./);
  });
});
