import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ClaimJson } from '../api/index.ts';
import { runCommand } from './command.ts';
import type { CommandTools } from './tools.ts';

/** Runs one command line and gives what it wrote. */
async function run(...words: string[]) {
  let out = '';
  let err = '';
  const status = await runCommand(
    words,
    { version: '0', photoSearch: () => Promise.reject(new Error('not wanted')) } as unknown as CommandTools,
    {
      out: (text) => {
        out += text;
      },
      err: (text) => {
        err += text;
      },
      watched: false,
      signal: new AbortController().signal,
    },
  );
  return { status, out, err };
}
const claimed = async (...words: string[]) =>
  ClaimJson.parse(JSON.parse((await run('claim', ...words, '--json')).out));

describe('claim from counts alone', () => {
  // The exact paired rule with equal effort: P(all n on one side) = 2^-n ≤ 0.05 first at n = 5 (Przyborowski & Wilenski 1940).
  it('five against one empty blank stand above background, four do not', async () => {
    expect(await claimed('--portion', '1g:5', '--blank', '0')).toMatchObject({ above_background: true });
    expect(await claimed('--portion', '1g:4', '--blank', '0')).toMatchObject({
      above_background: false,
      state: 'not-distinguishable',
    });
    const primary = (await claimed('--portion', '1g:5', '--blank', '0')).tests.find((t) => t.primary);
    expect(primary!.p).toBeCloseTo(1 / 32, 12);
  });

  // One run against three of the same effort: P = (1/4)^3 = 1/64.
  it('three suffice against three empty blanks, two do not', async () => {
    const blanks = ['--blank', '0', '--blank', '0', '--blank', '0'];
    expect(await claimed('--portion', '1g:3', ...blanks)).toMatchObject({ above_background: true });
    expect(await claimed('--portion', '1g:2', ...blanks)).toMatchObject({ above_background: false });
  });

  it('says in its figures what it says in its sentence', async () => {
    const claim = await claimed(
      '--portion',
      '0.5g:9',
      '--blank',
      '1',
      '--passed',
      '80%',
      '--recovery',
      '45/50',
    );
    const net = claim.net_per_gram!;
    expect(net.lower).toBeLessThanOrEqual(net.value);
    expect(net.value).toBeLessThanOrEqual(net.upper);
    // (9 − 1) / (0.8 passed × 0.5 g × 0.9 recovered)
    expect(net.value).toBeCloseTo(8 / (0.8 * 0.5 * 0.9), 6);
  });

  it('without a portion is refused, in JSON too', async () => {
    const { status, out } = await run('claim', '--blank', '2', '--json');
    expect(status).toBe(1);
    expect(JSON.parse(out)).toMatchObject({ refusal: { why: 'no-portions' } });
  });

  it('without a blank is a claim that nothing can be judged', async () => {
    const { status, out } = await run('claim', '--portion', '1g:5', '--json');
    expect(status).toBe(0);
    expect(JSON.parse(out)).toMatchObject({
      state: 'cannot-be-judged',
      net_per_gram: null,
      above_background: null,
    });
  });

  it('has it all: joint model, other units, other ways, sizes', async () => {
    const runs = [14, 11, 16, 12].flatMap((n, i) => ['--portion', `p${i}=1g/2pieces:${n}`]);
    const blanks = [3, 5, 2, 4].flatMap((n, i) => ['--blank', `b${i}=${n}`]);
    const spikes = ['--recovery', '45/50', '--recovery', '40/50'];
    const claim = await claimed(...runs, ...blanks, ...spikes);
    expect(claim.net_per_piece!.value).toBeCloseTo(claim.net_per_gram!.value / 2, 9);
    expect(claim.net_per_portion!.value).toBeCloseTo(claim.net_per_gram!.value, 9);
    expect(claim.joint!.probability_above).toBeGreaterThan(0.95);
    expect(claim.joint!.variance.reduce((sum, v) => sum + v.share, 0)).toBeCloseTo(1, 9);
    expect(claim.robustness!.rows.length).toBe(claim.robustness!.judged);
    expect(claim.thresholds).toMatchObject({ decided_by: 'permutation', deciding_count: expect.any(Number) });
    expect(claim.sizes).toBeNull();
    const sized = await claimed(
      '--portion',
      'a=1g:2',
      '--blank',
      'b=1',
      '--sizes',
      'a=120um,0.7mm',
      '--sizes',
      'b=90um',
    );
    expect(sized.sizes!.map((s) => s.scheme)).toEqual(['iso-24187', 'eu-2024-1441']);
    for (const { bands, below, above } of sized.sizes!) {
      expect(bands.reduce((sum, b) => sum + (b.specimens ?? 0), 0)).toBe(2);
      expect(below + above).toBe(0);
    }
  });

  it('takes the share found of each size from a file, and says what is wrong with one', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'retentate-claim-'));
    const cell = { shape: 'fragment', contrast: 'strong', share: 0.5, lower: 0.3, upper: 0.7 };
    const file = join(folder, 'completeness.json');
    await writeFile(
      file,
      JSON.stringify({
        format: 'retentate/completeness/1',
        method: { name: 'm', version: '1' },
        photographs: 1,
        drawn: 40,
        not_drawn: 0,
        blur_px: 1,
        confidence: 0.95,
        seed: 1,
        floors: [],
        cells: [
          { ...cell, size_um: 70, found: 5, drawn: 10 },
          { ...cell, size_um: 90, found: 10, drawn: 10 },
        ],
      }),
    );
    const words = ['--portion', 'a=1g:1', '--blank', '0', '--sizes', 'a=80um', '--completeness'];
    const [iso] = (await claimed(...words, file)).sizes!;
    const of = (from: number) => iso!.bands.find((band) => band.from_um === from)!.chance_of_finding;
    expect([of(50), of(100)]).toEqual([0.75, null]);
    await writeFile(file, 'no');
    for (const path of [file, join(folder, 'none.json')]) {
      const { status, err } = await run('claim', ...words, path);
      expect(status).toBe(1);
      expect(err).toMatch(/is not JSON|no such file/);
    }
    await rm(folder, { recursive: true });
  });

  it.each([
    ['nothing on either side', ['--portion', '1g:0', '--blank', '0'], 'not-detected'],
    ['blanks above samples', ['--portion', '1g:2', '--blank', '20', '--blank', '30'], 'not-detected'],
    ['one replicate', ['--portion', '1g:9', '--blank', '2'], 'detected-not-quantified'],
    ['all none', Array(4).fill(['--portion', '1g:0', '--blank', '0']).flat(), 'not-detected'],
  ])('states a limit above 0 and no nonsense for %s', async (_what, words, state) => {
    const { out } = await run('claim', ...words, '--json');
    expect(out).not.toMatch(/NaN|Infinity/);
    const claim = ClaimJson.parse(JSON.parse(out));
    expect(claim.state).toBe(state);
    expect(claim.upper_limit_per_gram).toBeGreaterThan(0);
    expect(claim.net_per_gram!.lower).toBeLessThanOrEqual(claim.net_per_gram!.value);
  });

  it('is a page with the sentence first', async () => {
    const { out } = await run('claim', '--portion', '1g:5', '--blank', '0');
    expect(out).toMatch(/^More suspected plastic pieces/);
    expect(out).toContain('Because');
    expect(Math.max(...out.split('\n').map((line) => line.length))).toBeLessThanOrEqual(100);
  });

  it.each([
    ['negative', ['--portion', '1g:-5', '--blank', '0'], /“-5”.*whole number/],
    ['fractional', ['--portion', '1g:5.5', '--blank', '0'], /“5.5”.*whole number/],
    ['not a number', ['--portion', '1g:NaN', '--blank', '0'], /“NaN”.*whole number/],
    ['a blank not whole', ['--portion', '1g:5', '--blank', '0.5'], /“0.5”.*whole number/],
    ['a portion without mass', ['--portion', '5', '--blank', '0'], /mass/],
    ['a mass of 0', ['--portion', '0g:5', '--blank', '0'], /above 0/],
    ['a mass without a unit', ['--portion', '1:5', '--blank', '0'], /no unit.*g, mg, kg/],
    ['a length for a mass', ['--portion', '1mm:5', '--blank', '0'], /“mm”.*g, mg, kg/],
    ['recovery above 1', ['--portion', '1g:5', '--blank', '0', '--recovery', '60/50'], /60\/50/],
    ['recovery of none added', ['--portion', '1g:5', '--blank', '0', '--recovery', '0/0'], /above 0/],
    ['passed of 0', ['--portion', '1g:5', '--blank', '0', '--passed', '0'], /above 0/],
    ['examined above 1', ['--portion', '1g:5', '--blank', '0', '--examined', '1.2'], /at most 1/],
    ['a drill of one part', ['--portion', '1g:5', '--blank', '0', '--drill', '18/20'], /18\/20,2\/30/],
    ['pieces of none', ['--portion', '1g/0:5', '--blank', '0'], /pieces above 0/],
    [
      'a drill that tells nothing',
      ['--portion', '1g:5', '--blank', '0', '--drill', '2/20,18/20'],
      /do not tell/,
    ],
    [
      'no known piece found',
      ['--portion', '1g:5', '--blank', '0', '--recovery', '0/50'],
      /repeat the spiked run/,
    ],
    [
      'too few sizes',
      ['--portion', 'a=1g:5', '--blank', '0', '--sizes', 'a=120um'],
      /“a”: 1 were given for 5/,
    ],
    ['sizes of nobody', ['--portion', '1g:0', '--blank', '0', '--sizes', 'b=120um'], /“b”.*no portion/],
    ['a size without a unit', ['--portion', 'a=1g:1', '--blank', '0', '--sizes', 'a=120'], /no unit/],
    ['a confidence of 100 %', ['--portion', '1g:5', '--blank', '0', '--confidence', '1'], /./],
  ])('refuses %s with what was given and what is allowed', async (_what, words, says) => {
    const { status, out, err } = await run('claim', ...words);
    expect(status).toBe(1);
    expect(err).toMatch(says);
    expect(out).toBe('');
    const json = await run('claim', ...words, '--json');
    expect(json.status).toBe(1);
    expect(JSON.parse(json.out)).toMatchObject({
      refusal: { why: expect.any(String), message: expect.stringMatching(says) },
    });
  });
});

describe('the command line', () => {
  it.each([
    [[], 2],
    [['fnid'], 2],
    [['claim'], 1],
    [['claim', '--potion', '1g:5'], 2],
    [['find'], 2],
    [['find', 'a.jpg', '--pitch', '3.1'], 2],
    [['find', 'a.jpg', '--pitch', '3.1g'], 2],
    [['find', 'a.jpg', '--scale', '4.2um'], 2],
    [['find', 'a.jpg', '--pitch', '3.1mm', '--scale', '4.2um/px'], 2],
    [['find', 'a.jpg', '--false-finds', '0'], 2],
    [['find', 'a.jpg', '--blanks', '--completeness'], 2],
    [['--help'], 0],
    [['find', '--help'], 0],
    [['--version'], 0],
  ])('%j ends with status %i', async (words, status) => {
    const { status: given, out, err } = await run(...words);
    expect(given).toBe(status);
    expect(status === 0 ? out : err).not.toBe('');
  });
});
