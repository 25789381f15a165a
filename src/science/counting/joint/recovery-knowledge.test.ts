import { describe, expect, it } from 'vitest';
import { gaussLegendre, lnBetaBinomial } from '../../maths/index.ts';
import { shareBelow, valueAt } from './knowledge.ts';
import { recoveryKnowledge } from './recovery-knowledge.ts';

describe('recovery from spiked runs', () => {
  it('is the beta-binomial posterior, against a plain double integral', () => {
    const spikes = [
      { found: 48, added: 60 },
      { found: 41, added: 60 },
      { found: 52, added: 60 },
    ];
    const rule = gaussLegendre(80);
    const mass = (from: number, to: number): number => {
      let sum = 0;
      for (let i = 0; i < 80; i++) {
        const r = (from + to) / 2 + ((to - from) / 2) * rule.points[i]!;
        let inner = 0;
        for (let t = 0; t < 80; t++) {
          const tau = 0.25 + 0.25 * rule.points[t]!;
          const size = 1 / tau ** 2 - 1;
          let ln = 0;
          for (const s of spikes) ln += lnBetaBinomial(s.found, s.added, r * size, (1 - r) * size);
          inner += rule.weights[t]! * Math.exp(ln + 10);
        }
        sum += (rule.weights[i]! * inner) / Math.sqrt(r * (1 - r));
      }
      return (sum * (to - from)) / 2;
    };
    const known = recoveryKnowledge(spikes);
    const all = mass(0.2, 0.6) + mass(0.6, 0.9999);
    for (const x of [0.65, 0.75, 0.8, 0.86]) {
      expect(Math.abs(shareBelow(known, x) - (mass(0.2, 0.6) + mass(0.6, x)) / all)).toBeLessThan(0.01);
    }
  });

  it('is wider when spiked runs disagree, and narrower with more of them', () => {
    const width = (spikes: { found: number; added: number }[]): number => {
      const k = recoveryKnowledge(spikes);
      return valueAt(k, 0.975) - valueAt(k, 0.025);
    };
    const agree = [45, 45, 45].map((found) => ({ found, added: 60 }));
    const differ = [30, 45, 60].map((found) => ({ found, added: 60 }));
    expect(width(differ)).toBeGreaterThan(1.2 * width(agree));
    expect(width([...agree, ...agree])).toBeLessThan(width(agree));
  });

  it('stays a share when all was found again', () => {
    const k = recoveryKnowledge([{ found: 60, added: 60 }]);
    expect(valueAt(k, 0.999)).toBeLessThanOrEqual(1);
    expect(valueAt(k, 0.025)).toBeGreaterThan(0.5);
  });

  it('refuses more found than added, and no spikes', () => {
    expect(() => recoveryKnowledge([{ found: 7, added: 6 }])).toThrow(RangeError);
    expect(() => recoveryKnowledge([])).toThrow(RangeError);
  });
});
