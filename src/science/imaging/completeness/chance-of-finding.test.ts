import { describe, expect, it } from 'vitest';
import { chanceFrom } from '../../maths/index.ts';
import { fitCurve, shareFound, sizeFloor, type Trial } from './chance-of-finding.ts';

const trials = (sizeUm: number, found: number, drawn: number): Trial[] =>
  Array.from({ length: drawn }, (_, i) => ({ sizeUm, found: i < found }));

describe('share found with its score interval', () => {
  // Newcombe 1998, Stat. Med. 17:857–872, Table I (method 3), four decimals; the lower five recomputed with scipy.
  const table = [
    [81, 263, 0.2553, 0.3662],
    [15, 148, 0.0624, 0.1605],
    [0, 20, 0, 0.1611],
    [1, 29, 0.0061, 0.1718],
    [7, 10, 0.3968, 0.8922],
    [18, 20, 0.699, 0.9721],
    [20, 20, 0.8389, 1],
    [45, 50, 0.7864, 0.9565],
    [95, 100, 0.8882, 0.9785],
  ] as const;
  for (const [found, drawn, lower, upper] of table) {
    it(`${found} of ${drawn}`, () => {
      const share = shareFound(found, drawn, 0.95);
      expect(share.lower).toBeCloseTo(lower, 4);
      expect(share.upper).toBeCloseTo(upper, 4);
    });
  }
  it('refuses what is no count', () => {
    expect(() => shareFound(3, 2, 0.95)).toThrow(RangeError);
    expect(() => shareFound(0, 0, 0.95)).toThrow(RangeError);
  });
});

describe('the curve of chance against size', () => {
  it('with two sizes is the log odds with a half added to each cell (Firth 1993; Heinze & Schemper 2002)', () => {
    const curve = fitCurve([...trials(50, 2, 12), ...trials(200, 12, 12)]);
    const at = (size: number) => curve.a + curve.b * (Math.log(size) - curve.centre);
    expect(at(50)).toBeCloseTo(Math.log(2.5 / 10.5), 6);
    expect(at(200)).toBeCloseTo(Math.log(12.5 / 0.5), 6);
  });

  it('tells the sizes of 50 % and 90 % with intervals that hold the truth as often as they say', () => {
    // True curve: logit = 4·ln(size / 60), so 50 % at 60 µm and 90 % at 60·9^(1/4) µm.
    const sizes = [20, 32, 50, 80, 125, 200];
    const chance = chanceFrom(7);
    let [half, most] = [0, 0];
    const studies = 160;
    for (let s = 0; s < studies; s++) {
      const drawn = sizes.flatMap((sizeUm) =>
        Array.from({ length: 12 }, () => ({
          sizeUm,
          found: chance.uniform() < 1 / (1 + (60 / sizeUm) ** 4),
        })),
      );
      const a = sizeFloor(drawn, 0.5, 0.95);
      const b = sizeFloor(drawn, 0.9, 0.95);
      if (a.lowerUm! <= 60 && 60 <= a.upperUm!) half++;
      const truth = 60 * 9 ** 0.25;
      if ((b.lowerUm ?? 0) <= truth && truth <= (b.upperUm ?? 1e9)) most++;
    }
    // 95 % of 160 is 152; three standard deviations of a binomial are 8.3.
    expect(half).toBeGreaterThanOrEqual(143);
    expect(most).toBeGreaterThanOrEqual(143);
    expect(half).toBeLessThan(160);
  });

  it('allows for large pieces that are missed too: the half floor stays where half are found', () => {
    // Drawn into the example's controls, middling contrast; a curve that ends at 1 would put the half at 14 µm.
    const seen = [
      [20, 17, 36],
      [32, 31, 36],
      [50, 34, 36],
      [80, 32, 36],
      [125, 35, 36],
      [200, 34, 36],
      [320, 35, 36],
    ] as const;
    const drawn = seen.flatMap(([size, found, of]) => trials(size, found, of));
    const half = sizeFloor(drawn, 0.5, 0.95);
    expect(half.sizeUm!).toBeGreaterThan(18);
    expect(half.sizeUm!).toBeLessThan(23);
    const most = sizeFloor(drawn, 0.9, 0.95);
    expect(most.sizeUm!).toBeGreaterThan(32);
    expect(most.sizeUm!).toBeLessThan(60);
  });

  it('tells no size where the ceiling lies below the chance asked for', () => {
    const drawn = [20, 40, 80, 160, 320].flatMap((size) => trials(size, size === 20 ? 5 : 35, 50));
    expect(sizeFloor(drawn, 0.9, 0.95).because).toContain('320 µm');
    expect(sizeFloor(drawn, 0.5, 0.95).sizeUm!).toBeLessThan(40);
  });

  it('says why there is no floor', () => {
    const easy = sizeFloor([...trials(100, 12, 12), ...trials(200, 12, 12)], 0.5, 0.95);
    expect(easy.sizeUm).toBeNull();
    expect(easy.because).toContain('100 µm');
    const hopeless = sizeFloor([...trials(20, 0, 12), ...trials(40, 0, 12)], 0.9, 0.95);
    expect(hopeless.sizeUm).toBeNull();
    expect(hopeless.because).not.toBeNull();
    const backwards = sizeFloor([...trials(20, 9, 12), ...trials(40, 2, 12)], 0.5, 0.95);
    expect(backwards.because).toContain('not found more often');
  });
});
