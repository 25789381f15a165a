import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { bandsOf, type RawSpectrum, type Reference, understand } from '../science/spectra/index.ts';
import { done, refused } from '../units/index.ts';
import { type CommandTools, runCommand } from './index.ts';

const folder = mkdtempSync(join(tmpdir(), 'match-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function raw(family: string, shift = 0): RawSpectrum {
  const x = Float64Array.from({ length: 900 }, (_, k) => 600 + 3.7 * k);
  const y = x.map((at) =>
    bandsOf(family, 'infrared').reduce(
      (sum, band, b) => sum + (0.5 + 0.1 * (b % 5)) * Math.exp(-(((at - band - shift) / 10) ** 2)),
      0.02,
    ),
  );
  return { title: family, x, y, xUnit: 'cm-1', yUnit: 'absorbance', remarks: [] };
}
const reference = (family: string, k: number): Reference => {
  const spectrum = understand(raw(family, k / 4), family);
  if (!spectrum.ok) throw new Error(spectrum.refusal.message);
  return { name: `${family}-${k}.csv`, material: family, family, spectrum: spectrum.value, own: false };
};
const ALL = ['PE', 'PP', 'PS', 'PA', 'PMMA', 'PVC'].flatMap((family) =>
  [0, 1, 2, 3, 4].map((k) => reference(family, k)),
);
const unused = () => Promise.reject(new Error('not for this command'));

async function run(references: readonly Reference[], ...words: readonly string[]) {
  let out = '';
  let err = '';
  const tools = {
    version: '0',
    photoSearch: unused,
    laboratory: unused,
    spectra: async () => ({
      at: async (path: string) =>
        path === 'empty'
          ? refused({ why: 'no-spectra', message: '“empty” holds no file that may be a spectrum.' })
          : done(
              path === 'folder'
                ? ['PE', 'bad.csv', 'PS'].map((name) => ({ path: name, name: `sub/${name}` }))
                : [{ path, name: path }],
            ),
      read: async (path: string) => ({
        read: path.startsWith('bad')
          ? refused({ why: 'not-a-spectrum', message: `“${path}” holds no columns of numbers.` })
          : done([raw(path)]),
        sha256: null,
      }),
      references: async () => done({ references, skipped: [] }),
    }),
  } as unknown as CommandTools;
  const status = await runCommand(['match', ...words], tools, {
    out: (text) => {
      out += text;
    },
    err: (text) => {
      err += text;
    },
    watched: false,
    signal: new AbortController().signal,
  });
  return { status, out, err };
}

describe('retentate match', () => {
  it('answers with its ranking, bands and threshold', async () => {
    const { status, out } = await run(ALL, 'PS', '--references', 'known', '--json');
    const json = JSON.parse(out);
    expect(status).toBe(0);
    expect(json).toMatchObject({
      format: 'retentate/match/1',
      answer: { family: 'PS', kind: 'plastic' },
      cannot_tell: null,
      refusal: null,
      references: { used: 30, families: 6 },
      threshold: { false_accepts: 0.02, basis: 'these-references' },
    });
    expect(json.ranking[0]).toMatchObject({ rank: 1, family: 'PS' });
    expect(json.bands.for).toContain(1601);
    expect(out).not.toMatch(/NaN|Infinity/);
  });

  it('says that it cannot tell, which is done and not refused', async () => {
    const { status, out } = await run(ALL, 'protein', '--references', 'known', '--json');
    const json = JSON.parse(out);
    expect(status).toBe(0);
    expect(json.answer).toBeNull();
    expect(json.cannot_tell.message).toMatch(/does not reach/);
  });

  it('says it in words and draws the picture', async () => {
    const file = join(folder, 'picture.svg');
    const { status, out } = await run(ALL, 'PE', '--references', 'known', '--picture', file);
    expect(status).toBe(0);
    expect(out).toMatch(/^PE: PE, plastic, likeness 1\.00\./);
    expect(out).toMatch(/bands of PE that are there: 2915/);
    expect(readFileSync(file, 'utf8')).toMatch(/^<svg [\s\S]*<\/svg>$/);
  });

  it('goes on past a file that cannot be read, and is refused for it', async () => {
    const { status, out } = await run(ALL, 'bad.csv', 'PE', '--references', 'known');
    expect(status).toBe(1);
    expect(out).toMatch(/holds no columns[\s\S]*PE: PE, plastic/);
  });

  it('takes every spectrum of a folder, and sums up', async () => {
    const { status, out } = await run(ALL, 'folder', '--references', 'known');
    expect(status).toBe(1);
    expect(out).toMatch(/sub\/PE: PE, plastic/);
    expect(out).toMatch(/bad\.csv/);
    expect(out).toMatch(
      /3 spectra: 2 answered \(PE 1, PS 1\), 0 cannot be told, 1 could not be compared\.\n$/,
    );
    expect((await run(ALL, 'empty', 'PE', '--references', 'known')).out).toMatch(
      /“empty” holds no file[\s\S]*PE: PE, plastic/,
    );
  });

  it('takes the bare filter off before it compares', async () => {
    const { status, out } = await run(
      ALL,
      'PS',
      '--references',
      'known',
      '--filter',
      'cellulose/plant',
      '--json',
    );
    expect(status).toBe(0);
    expect(JSON.parse(out).answer.family).toBe('PS');
    expect((await run(ALL, 'PS', '--references', 'known', '--filter', 'bad.csv')).status).toBe(1);
  });

  it('is refused without references', async () => {
    const { status, out } = await run([], 'PE', '--references', 'known');
    expect(status).toBe(1);
    expect(out).toMatch(/holds no spectra/);
  });

  it('is misuse without a folder or with a share that is none', async () => {
    expect((await run(ALL, 'PE')).status).toBe(2);
    expect((await run(ALL, 'PE', '--references', 'known', '--false-accepts', '2')).status).toBe(2);
    expect((await run(ALL, 'PE', '--references', 'known', '--laser', 'red')).status).toBe(2);
  });
});
