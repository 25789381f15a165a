import { describe, expect, it } from 'vitest';
import { chanceFrom } from '../maths/index.ts';
import { match, referenceSet } from './match.ts';
import { bandsOf } from './materials.ts';
import type { Reference } from './reference.ts';
import type { Spectrum, Technique } from './spectrum.ts';

/** A spectrum drawn from the published bands of families, each with its share, on a bent base with seeded noise. */
function drawn(
  shares: Readonly<Record<string, number>>,
  seed: number,
  technique: Technique = 'infrared',
): Spectrum {
  const chance = chanceFrom(seed);
  const [from, to] = technique === 'infrared' ? [600, 4000] : [150, 3600];
  const axis = Float64Array.from({ length: 1200 }, (_, k) => from! + ((to! - from!) * k) / 1199);
  const height = axis.map((x) => 0.1 + 0.05 * Math.sin(x / 900 + seed) + 0.004 * (chance.uniform() - 0.5));
  for (const [family, share] of Object.entries(shares)) {
    for (const [b, band] of bandsOf(family, technique).entries()) {
      const size = share * (0.4 + 0.6 * Math.abs(Math.sin(7 * b + 1))) * (0.85 + 0.3 * chance.uniform());
      const width = band > 3100 ? 90 : 9;
      for (let k = 0; k < axis.length; k++)
        height[k]! += size * Math.exp(-0.5 * ((axis[k]! - band) / width) ** 2);
    }
  }
  return { title: 'drawn', technique, axis, height, taken: [] };
}

const FAMILIES = ['PE', 'PP', 'PS', 'polyester (PET)', 'PA', 'PMMA', 'PLA', 'cellulose/plant', 'protein'];
const references = (families: readonly string[], each = 5, technique: Technique = 'infrared'): Reference[] =>
  families.flatMap((family, f) =>
    Array.from({ length: each }, (_, k) => ({
      name: `${family} ${k}`,
      material: family,
      family,
      spectrum: drawn({ [family]: 1 }, 100 * f + k, technique),
      own: false,
    })),
  );

describe('a spectrum among references', () => {
  const set = referenceSet(references(FAMILIES), 'infrared');
  it.each(FAMILIES)('is told: %s', (family) => {
    const found = match(drawn({ [family]: 1 }, 9000), set);
    expect(found.answer?.family).toBe(family);
    expect(found.threshold.basis).toBe('these-references');
  });

  it('of a family that is not among them is not told', () => {
    for (const family of FAMILIES) {
      const without = referenceSet(references(FAMILIES.filter((f) => f !== family)), 'infrared');
      const found = match(drawn({ [family]: 1 }, 9100), without);
      expect(found.answer, family).toBeNull();
      expect(found.cannotTell?.message).toMatch(/does not reach|bands/);
    }
  });

  it('of noise alone is not told', () => {
    expect(match(drawn({}, 9200), set).answer).toBeNull();
  });

  it('has bands that speak for it, and against it when they are another’s', () => {
    const { bands } = match(drawn({ 'polyester (PET)': 1 }, 9300), set);
    expect(bands!.found).toContain(1713);
    expect(bands!.missing.length).toBeLessThan(bands!.found.length);
  });

  it('made of two is named as a mixture, its shares those of the signal', () => {
    const { mixture } = match(drawn({ PS: 0.6, PMMA: 0.6 }, 9400), set);
    expect(mixture).not.toBeNull();
    const names = mixture!.references.map((k) => set.references[k]!.family).sort();
    expect(names).toEqual(['PMMA', 'PS']);
    expect(mixture!.shares[0] + mixture!.shares[1]).toBeCloseTo(1, 9);
  });

  it('over a shorter stretch is told as well', () => {
    const whole = drawn({ PS: 1 }, 9500);
    const from = whole.axis.findIndex((x) => x > 900);
    const to = whole.axis.findIndex((x) => x > 3200);
    const part = { ...whole, axis: whole.axis.slice(from, to), height: whole.height.slice(from, to) };
    expect(match(part, set).ranking[0]!.family).toBe('PS');
  });

  it('at equal likeness goes to the laboratory’s own material', () => {
    const twins = references(['PE', 'PP', 'PS'], 2).map((r, k) => ({
      ...r,
      spectrum: references(['PE', 'PP', 'PS'], 2)[k - (k % 2)]!.spectrum,
    }));
    const own = twins.map((r, k) => ({ ...r, own: k % 2 === 1 }));
    const found = match(drawn({ PP: 1 }, 9600), referenceSet(own, 'infrared'));
    expect(own[found.ranking[0]!.reference]!.own).toBe(true);
  });
});

describe('a reference named for another material', () => {
  const wrong = {
    name: 'PLA that is none',
    material: 'PLA',
    family: 'PLA',
    spectrum: drawn({ PS: 1 }, 4242),
    own: true,
  };
  const others = references(FAMILIES, 6);

  it('is set aside and named, and lends its name to nothing', () => {
    const found = match(drawn({ PS: 1 }, 9800), referenceSet([...others, wrong], 'infrared'));
    expect(found.answer?.family).toBe('PS');
    expect(found.doubtful).toEqual([{ reference: others.length, like: 'PS' }]);
  });

  it('does not make a stranger pass, nor raise the threshold for all', () => {
    const noPs = [...others.filter(({ family }) => family !== 'PS')];
    const clean = match(drawn({ PE: 1 }, 9801), referenceSet(others, 'infrared'));
    const soiled = match(drawn({ PE: 1 }, 9801), referenceSet([...others, wrong], 'infrared'));
    expect(soiled.threshold.evidence).toBeCloseTo(clean.threshold.evidence, 2);
    // With its true family absent nothing tells that the name is wrong, and it is kept.
    expect(match(drawn({ PE: 1 }, 9801), referenceSet([...noPs, wrong], 'infrared')).doubtful).toEqual([]);
  });
});

it('uses a stored threshold where the references are too few to set one', () => {
  const found = match(drawn({ PE: 1 }, 1), referenceSet(references(['PE', 'PP'], 2), 'infrared'));
  expect(found.threshold.basis).toBe('stored');
});

it('answers more strangers where more are allowed', () => {
  const strict = referenceSet(references(FAMILIES), 'infrared', 0.01);
  const loose = referenceSet(references(FAMILIES), 'infrared', 0.5);
  const query = drawn({ PE: 1 }, 9700);
  expect(match(query, strict).threshold.evidence).toBeGreaterThanOrEqual(
    match(query, loose).threshold.evidence,
  );
});

it('never holds Raman against infrared', () => {
  const set = referenceSet(references(['PE', 'PP', 'PS'], 2, 'raman'), 'raman');
  expect(match(drawn({ PS: 1 }, 3, 'raman'), set).ranking[0]!.family).toBe('PS');
  expect(() => match(drawn({ PS: 1 }, 3), set)).toThrow(RangeError);
  expect(() => referenceSet(references(['PE'], 1), 'raman')).toThrow(RangeError);
});
