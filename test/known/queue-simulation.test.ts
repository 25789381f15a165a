import { describe, expect, it } from 'vitest';
import { erlangC, simulateQueue } from '../../bench-times/queue-simulation.ts';
import { chanceOf } from '../engines/chance.ts';

const exponential = (chance: () => number, mean: number): number => -mean * Math.log(1 - chance());
const NEVER = { dies: () => false, silentS: 10, backS: 60, tries: 3 } as const;

describe('Erlang C', () => {
  it('is the textbook’s sum, for few servers', () => {
    // a^c / c! · c/(c−a) over the sum of a^k/k! for k < c and itself; one server: the load; two under 1 erlang: 1/3.
    expect(erlangC(1, 0.7)).toBeCloseTo(0.7, 12);
    expect(erlangC(2, 1)).toBeCloseTo(1 / 3, 12);
    const [c, a] = [5, 3.5];
    const term = (k: number) => Array.from({ length: k }, (_, i) => a / (i + 1)).reduce((x, y) => x * y, 1);
    const last = (term(c) * c) / (c - a);
    const sum = Array.from({ length: c }, (_, k) => term(k)).reduce((x, y) => x + y, last);
    expect(erlangC(c, a)).toBeCloseTo(last / sum, 12);
    expect(erlangC(5000, 4900)).toBeGreaterThan(0);
    expect(() => erlangC(2, 2)).toThrow(RangeError);
  });
});

describe('the simulated queue', () => {
  it.each([
    { workers: 1, load: 0.7 },
    { workers: 3, load: 2.1 },
    { workers: 10, load: 9 },
  ])('waits as M/M/c does: $workers workers under $load erlangs', ({ workers, load }) => {
    const chance = chanceOf(workers * 1000 + 7);
    const searchS = 5;
    const photos = 400_000;
    const told = simulateQueue({
      ...NEVER,
      workers,
      untilS: (photos * searchS) / load,
      arrival: (now) => ({ at: now + exponential(chance, searchS / load), photos: 1 }),
      searchS: () => exponential(chance, searchS),
      chance,
    });
    // Gross and others 2008, §2.3: mean wait C / (c·µ − λ), and the share that waits at all is C.
    const mustWait = erlangC(workers, load);
    const meanS = mustWait / ((workers - load) / searchS);
    // Waits follow each other, so their mean is judged by the scatter among forty stretches.
    const stretch = Math.floor(told.waitsS.length / 40);
    const means = Array.from({ length: 40 }, (_, k) => {
      const part = told.waitsS.subarray(k * stretch, (k + 1) * stretch);
      return part.reduce((sum, wait) => sum + wait, 0) / stretch;
    });
    const mean = means.reduce((sum, one) => sum + one, 0) / 40;
    const error = Math.sqrt(means.reduce((sum, one) => sum + (one - mean) ** 2, 0) / 39 / 40);
    expect(Math.abs(mean - meanS)).toBeLessThan(4 * error);
    expect(error).toBeLessThan(0.06 * meanS);
    const waited = told.waitsS.reduce((n, wait) => n + (wait > 0 ? 1 : 0), 0) / told.waitsS.length;
    expect(waited).toBeCloseTo(mustWait, 1);
    expect(told.busy).toBeCloseTo(load / workers, 1);
  });

  it('gives a dead worker’s photograph to another after the silence, and sets it aside the third time', () => {
    const once = (deaths: number) => {
      let left = deaths;
      return simulateQueue({
        ...{ workers: 1, untilS: 1, silentS: 10, backS: 60, tries: 3, chance: () => 0.5 },
        arrival: (now) => ({ at: now === 0 ? 0.5 : Number.POSITIVE_INFINITY, photos: 2 }),
        searchS: () => 4,
        dies: () => left-- > 0,
      });
    };
    expect([...once(0).waitsS]).toEqual([0, 4]);
    // Dead after 2 s, back after 60 more; the second photograph, which waited, goes before the try again.
    const one = once(1);
    expect([...one.waitsS]).toEqual([0, 62]);
    expect(one).toMatchObject({ photos: 2, searchedAgain: 1, setAside: 0 });
    expect(once(6)).toMatchObject({ searchedAgain: 4, setAside: 2 });
  });
});
