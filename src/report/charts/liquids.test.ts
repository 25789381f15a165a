import { describe, expect, it } from 'vitest';
import { densityScale, settlingMap } from './index.ts';

describe('the settling map', () => {
  const cell = (size_um: number, verdict: 'sediment' | 'between' | 'undecided') => ({
    size_um,
    verdict,
    sediment: [verdict === 'sediment' ? 1 : 0, 1] as const,
    floating: [0, 0] as const,
  });
  const settling = {
    materials: [{ code: 'PET', sizes: [cell(5, 'between'), cell(50, 'sediment'), cell(100, 'undecided')] }],
  };

  it('shows a sign for each cell and says it in words', () => {
    const svg = settlingMap({ settling, width: 360, name: 'x' });
    expect(svg.match(/[▼·?]<\/text>/g)).toHaveLength(3);
    expect(svg).toContain('PET: 5 µm still in between, 50 µm in the sediment, 100 µm undecided.');
  });
  it('refuses nothing to draw', () => {
    expect(() => settlingMap({ settling: { materials: [] }, width: 360, name: 'x' })).toThrow(RangeError);
  });
});

describe('the density scale', () => {
  const materials = [
    { code: 'PP', density_g_ml: [0.9, 0.91], verdict: 'floats' },
    { code: 'PET', density_g_ml: [1.29, 1.4], verdict: 'sinks' },
  ] as const;
  it('names what floats and what sinks', () => {
    const svg = densityScale({ materials, liquidGMl: 1.18, toleranceGMl: 0.003, width: 800, name: 'x' });
    expect(svg).toContain('Floats: PP. Sinks: PET. Undecided: none.');
    expect(svg).toContain('this liquid: 1.180');
  });
});
