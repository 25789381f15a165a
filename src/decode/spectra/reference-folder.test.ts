import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readSpectrumFile } from './read-spectrum-file.ts';
import { readReferenceFolder, spectraAt } from './reference-folder.ts';

const folder = mkdtempSync(join(tmpdir(), 'references-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const columns = (at: number, head = 'cm-1,A\n'): string =>
  head +
  Array.from({ length: 120 }, (_, k) => {
    const x = 4000 - 28 * k;
    return `${x},${(0.1 + Math.exp(-(((x - at) / 40) ** 2))).toFixed(5)}`;
  }).join('\n');

/** The least of an SPC file (new form, least significant byte first): header, one subheader, ordinates as floats. */
function spc(points: number): Uint8Array {
  const bytes = new Uint8Array(512 + 32 + 4 * points);
  const view = new DataView(bytes.buffer);
  view.setUint8(1, 0x4b);
  view.setInt8(3, -128);
  view.setInt32(4, points, true);
  view.setFloat64(8, 4000, true);
  view.setFloat64(16, 600, true);
  view.setInt32(24, 1, true);
  view.setUint8(28, 1);
  view.setUint8(29, 2);
  view.setInt8(512 + 1, -128);
  for (let k = 0; k < points; k++) view.setFloat32(544 + 4 * k, Math.exp(-(((k - 60) / 5) ** 2)), true);
  return bytes;
}

beforeAll(() => {
  mkdirSync(join(folder, 'Cotton'));
  writeFileSync(
    join(folder, 'labels.csv'),
    'file,material,family,group\na1.csv,HDPE,PE,g1\nsub.csv,grout,grout,g2\n',
  );
  writeFileSync(join(folder, 'a1.csv'), columns(2900));
  writeFileSync(join(folder, 'sub.csv'), columns(1000));
  writeFileSync(join(folder, 'PET_07.txt'), columns(1720));
  writeFileSync(join(folder, 'Cotton', '0007.csv'), columns(1050));
  writeFileSync(join(folder, 'nylon.spc'), spc(120));
  writeFileSync(join(folder, 'broken.jdx'), 'Lorem ipsum');
  writeFileSync(join(folder, 'README.txt'), 'These are references.');
});

describe('a folder of references', () => {
  it('names materials from the table beside it, from file names and from folders', async () => {
    const read = await readReferenceFolder(folder);
    if (!read.ok) throw new Error(read.refusal.message);
    const named = Object.fromEntries(read.value.references.map((r) => [r.name, [r.material, r.family]]));
    expect(named).toEqual({
      'a1.csv': ['HDPE', 'PE'],
      'sub.csv': ['grout', 'grout'],
      'PET_07.txt': ['pet', 'polyester (PET)'],
      [join('Cotton', '0007.csv')]: ['cotton', 'cellulose/plant'],
      'nylon.spc': ['nylon', 'PA'],
    });
    expect(read.value.skipped.map(({ name, refusal }) => [name, refusal.why])).toEqual([
      ['broken.jdx', 'not-jcamp'],
    ]);
  });

  it('leaves out the file that is asked about', async () => {
    const read = await readReferenceFolder(folder, [join(folder, 'a1.csv')]);
    expect(read.ok && read.value.references.map(({ name }) => name)).not.toContain('a1.csv');
  });

  it('that is none is refused', async () => {
    const read = await readReferenceFolder(join(folder, 'nowhere'));
    expect(read.ok ? 'read' : read.refusal.message).toMatch(/is not a folder/);
  });
});

describe('a file', () => {
  it('in SPC is read with its units', async () => {
    const read = await readSpectrumFile(join(folder, 'nylon.spc'));
    if (!read.ok) throw new Error(read.refusal.message);
    const [{ x, y, xUnit, yUnit }] = read.value as [(typeof read.value)[number]];
    expect(x).toHaveLength(120);
    expect(Math.max(...x)).toBeCloseTo(4000, 6);
    expect(Math.max(...y)).toBeCloseTo(1, 6);
    expect(xUnit).toMatch(/cm-1|wavenumber/i);
    expect(yUnit).toMatch(/absorbance/i);
  });

  it('in SPC that is cut short is refused', async () => {
    writeFileSync(join(folder, 'cut.spc'), spc(120).subarray(0, 600));
    const read = await readSpectrumFile(join(folder, 'cut.spc'));
    expect(read.ok ? 'read' : read.refusal.message).toMatch(/“cut.spc”/);
  });

  it('that is not there, or a folder, is refused in one sentence', async () => {
    for (const [name, sentence] of [
      ['none.csv', /is not there/],
      ['Cotton', /is a folder/],
    ] as const) {
      const read = await readSpectrumFile(join(folder, name));
      expect(read.ok ? 'read' : read.refusal.message).toMatch(sentence);
    }
  });
});

describe('what a path names', () => {
  it('is the file itself, there or not', async () => {
    expect(await spectraAt('nowhere/x.csv')).toEqual({
      ok: true,
      value: [{ path: 'nowhere/x.csv', name: 'x.csv' }],
    });
  });

  it('is every spectrum of a folder, without the table and the texts beside them', async () => {
    const found = await spectraAt(folder);
    if (!found.ok) throw new Error(found.refusal.message);
    const names = found.value.map(({ name }) => name);
    expect(names).toContain('a1.csv');
    expect(names.some((name) => name.startsWith('Cotton'))).toBe(true);
    expect(names).not.toContain('labels.csv');
  });

  it('is refused where a folder holds none', async () => {
    const empty = mkdtempSync(join(tmpdir(), 'none-'));
    const found = await spectraAt(empty);
    rmSync(empty, { recursive: true });
    expect(found.ok ? null : found.refusal.message).toMatch(/holds no file that may be a spectrum/);
  });
});
