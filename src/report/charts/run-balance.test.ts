import { describe, expect, it } from 'vitest';
import { type RunBalance, runBalance } from './run-balance.ts';

const balance = (more: Partial<RunBalance> = {}): RunBalance => ({
  inMl: 200,
  outMl: 150,
  missingMl: 50,
  agrees: false,
  sentence: '50 of 200 mL are accounted for by nothing.',
  parts: [
    { kind: 'passed', fate: 'examined', volumeMl: 120 },
    { kind: 'remainder', fate: 'kept', volumeMl: 30 },
    { kind: 'rinse', fate: 'discarded', volumeMl: 40 },
  ],
  ...more,
});
const draw = (given: RunBalance) => runBalance({ balance: given, width: 404, name: 'b' });
const widths = (svg: string) =>
  [...svg.matchAll(/<rect[^>]* width="([\d.]+)"/g)].map((match) => Number(match[1]));

describe('the balance picture', () => {
  it('draws each part as long as its volume and the missing millilitres as a gap', () => {
    const svg = draw(balance());
    // 400 px stand for 200 mL.
    expect(widths(svg)).toEqual([240, 60, 98]);
    expect(svg).toContain('50 mL nobody accounts for');
    expect(svg).toContain('stroke-dasharray');
    expect(svg).not.toContain('40 mL rinse');
  });
  it('draws no gap where all agrees, and says where what went in is not known', () => {
    const whole = balance({ outMl: 200, missingMl: 0, agrees: true });
    expect(draw(whole)).not.toContain('stroke-dasharray');
    expect(draw(balance({ inMl: null, missingMl: null }))).toContain('what went in is not recorded');
    expect(draw(balance({ inMl: null, outMl: 0, missingMl: null, parts: [] }))).toContain('<svg');
  });
  it('escapes what people wrote and refuses no width', () => {
    expect(draw(balance({ sentence: '<b>' }))).toContain('&lt;b&gt;');
    expect(() => runBalance({ balance: balance(), width: 20, name: 'b' })).toThrow(RangeError);
  });
});
