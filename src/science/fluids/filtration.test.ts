import { describe, expect, it } from 'vitest';
import { chanceFrom } from '../maths/index.ts';
import {
  BLOCKING_LAWS,
  type BlockingLaw,
  cakeLine,
  cakeResistance,
  filterCover,
  forecastFlow,
  lastVolume,
  lawOf,
  lossOf,
  NO_WISH,
  onAnotherArea,
  planFiltration,
  printedConstant,
  simulateFlow,
  timeFor,
  timeToVolume,
  type VolumeMark,
  volumeAtFlow,
} from './index.ts';

const marks = (...pairs: readonly (readonly [number, number])[]): VolumeMark[] =>
  pairs.map(([timeS, volumeMl]) => ({ timeS, volumeMl }));

const forecast = (given: readonly VolumeMark[]) => {
  const made = forecastFlow(given);
  if (!made.ok) throw new Error(made.refusal.message);
  return made.value;
};
const why = (given: readonly VolumeMark[]) => {
  const made = forecastFlow(given);
  return made.ok ? null : made.refusal.why;
};

describe('the four blocking laws (Hermia 1982)', () => {
  // Worked for Q₀ = 10 mL/s and every printed constant 0.005: times at 10, 50, 100 and 150 mL.
  const fixture: Readonly<Record<BlockingLaw, readonly number[]>> = {
    complete: [1.002508, 5.063562, 10.258659, 15.592308],
    standard: [1.025641, 5.714286, 13.333333, 24.0],
    intermediate: [1.025422, 5.680508, 12.974425, 22.34],
    cake: [1.25, 11.25, 35.0, 71.25],
  };

  it.each(BLOCKING_LAWS)('%s gives the worked times', (law) => {
    const loss = lossOf(law, 10, 0.005);
    for (const [i, volume] of [10, 50, 100, 150].entries()) {
      expect(timeFor(law, volume, 10, loss)).toBeCloseTo(fixture[law][i]!, 5);
    }
    expect(printedConstant(law, 10, loss).value).toBeCloseTo(0.005, 12);
  });

  it.each(BLOCKING_LAWS)('%s obeys d²t/dV² = k(dt/dV)ⁿ with its exponent', (law) => {
    const loss = 0.003;
    const t = (v: number) => timeFor(law, v, 2, loss);
    const h = 0.05;
    const slope = (v: number) => (t(v + h) - t(v - h)) / (2 * h);
    const bend = (v: number) => (t(v + h) - 2 * t(v) + t(v - h)) / (h * h);
    const [a, b] = [60, 220];
    const n = Math.log(bend(b) / bend(a)) / Math.log(slope(b) / slope(a));
    expect(law === 'cake' ? bend(b) / bend(a) : n).toBeCloseTo(law === 'cake' ? 1 : lawOf(law).exponent, 2);
    // The stated flow is the reciprocal of the slope.
    expect(2 * lawOf(law).flow(loss * b)).toBeCloseTo(1 / slope(b), 4);
    expect(lawOf(law).flow(lawOf(law).atFlow(0.1))).toBeCloseTo(0.1, 12);
  });

  it('ends where the printed forms end: complete at 1/b, standard at 2/b, the others never', () => {
    expect(lastVolume('complete', 0.01)).toBe(100);
    expect(lastVolume('standard', 0.01)).toBe(200);
    expect(lastVolume('cake', 0.01)).toBeNull();
    expect(timeFor('complete', 100, 1, 0.01)).toBe(Infinity);
    expect(volumeAtFlow('cake', 0.1, 0.01)).toBeCloseTo(900, 9);
  });
});

describe('the textbook cake: CaCO₃ slurry, McCabe, Smith & Harriott', () => {
  const test1 = marks([17.3, 500], [41.3, 1000], [72, 1500], [108.3, 2000], [152.1, 2500], [201.7, 3000]);

  it('gives the printed slope 13.02 s/L² and intercept 28.21 s/L', () => {
    const line = cakeLine(test1);
    expect(line.slopeSMl2 * 1e6).toBeCloseTo(13.025, 3);
    expect(line.interceptSMl * 1e3).toBeCloseTo(28.2269, 3);
  });

  it('gives the printed resistances: α 1.66·10¹¹ ft/lb, R_m 1.98·10¹⁰ 1/ft', () => {
    const { cakeMKg, membrane1M } = cakeResistance(cakeLine(test1), {
      areaCm2: 440,
      pressureKPa: 6.7 * 6.894757,
      solidsGL: 23.5,
      viscosityMPaS: 0.886,
    });
    // 1 ft/lb = 0.671969 m/kg; 1/ft = 3.28084 1/m.
    expect(cakeMKg / 0.671969 / 1e11).toBeCloseTo(1.66, 1);
    expect(cakeMKg / 1e11).toBeCloseTo(1.1192, 2);
    expect(membrane1M / 3.28084 / 1e10).toBeCloseTo(1.98, 1);
  });

  it('is named a cake by the forecast', () => {
    const found = forecast(test1);
    expect(found.named).toBe('cake');
    const cake = found.laws.find((fit) => fit.law === 'cake')!;
    const constant = printedConstant('cake', cake.flowMlS, cake.lossPerMl).value;
    // K″/2 is the slope of t/V; relative and absolute least squares differ by a few per cent.
    expect(Math.abs((constant / 2) * 1e6 - 13.025)).toBeLessThan(0.6);
    expect(found.followsNoLaw).toBe(false);
  });
});

describe('a forecast', () => {
  it('covers the true capacity 85–95 times in 100 and names the right law, on seeded runs with 3 % timing noise', () => {
    const chance = chanceFrom(11);
    const tally = { covered: 0, named: 0, right: 0 };
    const ofLaw = { complete: 0, standard: 0, intermediate: 0, cake: 0 };
    const runs = 400;
    for (let i = 0; i < runs; i++) {
      const law = BLOCKING_LAWS[i % 4]!;
      const run = simulateFlow(chance, {
        law,
        capacityMl: 20 + 400 * chance.uniform(),
        flowMlS: 0.5 + 2 * chance.uniform(),
        upTo: 0.3 + 0.7 * chance.uniform(),
        marks: 6 + (i % 7),
        timingError: 0.03,
      });
      const { capacityMl, named } = forecast(run.marks);
      if (capacityMl.lower <= run.capacityMl && run.capacityMl <= (capacityMl.upper ?? Infinity)) {
        tally.covered++;
        ofLaw[law]++;
      }
      if (named !== null) tally.named++;
      if (named === law) tally.right++;
    }
    expect(tally.covered / runs).toBeGreaterThanOrEqual(0.85);
    expect(tally.covered / runs).toBeLessThanOrEqual(0.95);
    // A hundred of each law: ±4 % standard error around 88 %.
    for (const covered of Object.values(ofLaw)) expect(covered / (runs / 4)).toBeGreaterThanOrEqual(0.8);
    expect(tally.named).toBeGreaterThan(runs / 4);
    expect(tally.right / tally.named).toBeGreaterThanOrEqual(0.85);
  });

  it('narrows as marks come in', () => {
    const loss = volumeAtFlow('standard', 0.1, 1) / 100;
    const all = Array.from({ length: 12 }, (_, i) => ({
      volumeMl: 8 * (i + 1),
      timeS: timeFor('standard', 8 * (i + 1), 1, loss),
    }));
    const widths = [4, 6, 8, 10, 12].map((n) => {
      const { lower, upper } = forecast(all.slice(0, n)).capacityMl;
      return (upper ?? Infinity) / lower;
    });
    for (const [i, width] of widths.slice(1).entries()) expect(width).toBeLessThan(widths[i]!);
    expect(widths[4]!).toBeLessThan(1.2);
  });

  it('tells the time to a volume with the truth in its band, and when a volume will never pass', () => {
    const loss = volumeAtFlow('complete', 0.1, 1) / 90;
    const run = Array.from({ length: 8 }, (_, i) => ({
      volumeMl: 10 * (i + 1),
      timeS: timeFor('complete', 10 * (i + 1), 1, loss),
    }));
    const found = forecast(run);
    expect(found.named).toBe('complete');
    const soon = timeToVolume(found, 88);
    expect(soon.timeS!.lower).toBeLessThan(timeFor('complete', 88, 1, loss));
    expect(soon.timeS!.upper ?? Infinity).toBeGreaterThan(timeFor('complete', 88, 1, loss));
    const never = timeToVolume(found, 150);
    expect(never.timeS).toBeNull();
    expect(never.reached).toBeLessThan(0.05);
  });

  it('of an even flow has no ceiling in sight and names no law', () => {
    const found = forecast(marks([10, 10], [20, 20], [30, 30], [40, 40], [50, 50]));
    expect(found.capacityMl.upper).toBeNull();
    expect(found.named).toBeNull();
    expect(found.capacityMl.lower).toBeGreaterThan(50);
  });

  it('does not hang on units: twice the volume and time give twice the capacity', () => {
    const run = marks([100, 20], [230, 40], [400, 60], [640, 80]);
    const twice = run.map(({ timeS, volumeMl }) => ({ timeS: 2 * timeS, volumeMl: 2 * volumeMl }));
    expect(forecast(twice).capacityMl.value / forecast(run).capacityMl.value).toBeCloseTo(2, 2);
  });

  it('counts time and volume from a first mark at no volume', () => {
    const run = marks([100, 20], [230, 40], [400, 60], [640, 80]);
    const shifted = [{ timeS: 5, volumeMl: 0 }, ...run.map((m) => ({ ...m, timeS: m.timeS + 5 }))];
    expect(forecast(shifted).capacityMl).toEqual(forecast(run).capacityMl);
  });
});

describe('marks that no forecast can be made from', () => {
  it.each([
    ['too-few-marks', marks([10, 10], [20, 20])],
    ['too-few-marks', []],
    ['clock-runs-back', marks([10, 10], [30, 20], [20, 30])],
    ['same-time', marks([10, 10], [10, 20], [10, 30])],
    ['volume-falls', marks([10, 10], [20, 30], [30, 20])],
    ['no-volume-passed', marks([10, 10], [20, 20], [30, 20])],
    ['below-nought', marks([-1, 10], [20, 20], [30, 30])],
    ['not-a-number', marks([Number.NaN, 10], [20, 20], [30, 30])],
    ['flow-speeds-up', marks([20, 10], [35, 20], [46, 30], [54, 40], [60, 50])],
  ])('are refused: %s', (reason, given) => {
    expect(why(given)).toBe(reason);
  });

  it('the sentence says which mark, and what to do', () => {
    const made = forecastFlow(marks([10, 10], [30, 20], [20, 30]));
    expect(made.ok ? '' : made.refusal.message).toMatch(
      /^Mark 3: .*30 s to 20 s; put the marks in the order/,
    );
  });
});

describe('what follows', () => {
  const run = marks([30, 5], [75, 10], [140, 15], [230, 20], [350, 25], [520, 30]);
  const plan = (wish = {}) => planFiltration(forecast(run), { ...NO_WISH, ...wish });
  const kinds = (wish = {}) => plan(wish).advice.map((advice) => advice.kind);

  it('several filters or a wider disc for the whole liquid, and the share passed so far', () => {
    const made = plan({ totalMl: 200, areaCm2: 9.6 });
    expect(made.passed).toBeCloseTo(0.15, 12);
    expect(made.filters!).toBe(1 + Math.ceil((200 - Math.max(30, made.perFilterMl!)) / made.perFilterMl!));
    expect(made.oneFilterAreaCm2!).toBeCloseTo((9.6 * 200) / made.perFilterMl!, 9);
    expect(kinds({ totalMl: 200, areaCm2: 9.6 })).toContain('wider-disc');
    expect(made.perFilterMl!).toBeLessThanOrEqual(forecast(run).capacityMl.lower);
  });

  it('dilution adds volume and not capacity', () => {
    // The same solids in three times the liquid: marks at three times the volume, the same filters.
    const watery = run.map((mark) => ({ ...mark, volumeMl: 3 * mark.volumeMl }));
    const thrice = planFiltration(forecast(watery), { ...NO_WISH, totalMl: 600, diluted: 3 });
    expect(thrice.filters).toBe(plan({ totalMl: 200 }).filters);
    expect(thrice.advice.find((advice) => advice.kind === 'dilution')!.message).toMatch(
      /adds volume and not capacity/,
    );
  });

  it('a coarser pore only where the question allows it', () => {
    const message = (smallestUm: number) =>
      plan({ totalMl: 200, poreUm: 20, smallestUm }).advice.find((a) => a.kind === 'coarser-pore')!.message;
    expect(message(50)).toMatch(/is open to you: .* at most 25 µm/);
    expect(message(40)).toMatch(/is not open to you/);
  });

  it('one filter is enough where it is', () => {
    expect(plan({ totalMl: 10 }).filters).toBe(1);
    expect(kinds({ totalMl: 10 })).not.toContain('several-filters');
  });

  it('a test disc is scaled by area', () => {
    const wide = onAnotherArea(run, 1.5, 9.6);
    expect(forecast(wide).capacityMl.value / forecast(run).capacityMl.value).toBeCloseTo(6.4, 1);
  });

  it('refuses a wish that is no quantity', () => {
    expect(() => plan({ totalMl: -1 })).toThrow(RangeError);
  });
});

describe('load', () => {
  it('5 % cover of 9.6 cm² by pieces of 100 µm across', () => {
    const { mostPieces, share, tooMany } = filterCover(1000, (Math.PI / 4) * 100 ** 2, 9.6);
    expect(mostPieces).toBe(6111);
    expect(share).toBeCloseTo(1000 * 0.00000818123, 6);
    expect(tooMany).toBe(false);
  });
});
