import { describe, expect, it } from 'vitest';
import { DesignPlanJson } from '../api/index.ts';
import { runCommand } from './command.ts';
import type { CommandTools } from './tools.ts';

async function run(...words: string[]) {
  let out = '';
  let err = '';
  const status = await runCommand(['plan', ...words], { version: '0' } as unknown as CommandTools, {
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

describe('plan on the command line', () => {
  it('prints a page: what to do first, what was assumed last', async () => {
    const { status, out } = await run('--hours', '40', '--release', '12');
    expect(status).toBe(0);
    expect(out).toMatch(/^Best spent on/);
    expect(out.indexOf('What to do')).toBeLessThan(out.indexOf('What the plan rests on'));
    expect(out).toContain('(assumed: ');
    expect(Math.max(...out.split('\n').map((line) => line.length))).toBeLessThanOrEqual(100);
  });

  it('gives everything as one JSON object', async () => {
    const plan = DesignPlanJson.parse(
      JSON.parse((await run('--runs', '6', '--controls', '4', '--per-control', '90min', '--json')).out),
    );
    expect(plan.format).toBe('retentate/plan/1');
    expect(plan.have!.more.map((more) => more.hours)).toEqual([3, 6, 9]);
  });

  it.each([
    [['--background', 'few'], 2],
    [['--hours', '3kg'], 2],
    [['--portion', '1'], 2],
    [['--backgruond', '4'], 2],
    [['--background', '-4'], 1],
    [['--recovery', '0'], 1],
    [['--examined', '120%'], 1],
    [['--scatter', '900%'], 1],
    [['--runs', '0', '--controls', '0', '--yes-or-no'], 0],
  ])('%j ends with status %i', async (words, status) => {
    const { status: given, out, err } = await run(...words);
    expect(given).toBe(status);
    expect(status === 0 ? out : err).not.toBe('');
    if (status === 1) {
      const json = JSON.parse((await run(...words, '--json')).out);
      expect(json).toMatchObject({ refusal: { why: expect.any(String), message: expect.any(String) } });
    }
  });
});
