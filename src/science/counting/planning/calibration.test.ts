import { describe, expect, it } from 'vitest';
import { runTrial, type Trial } from './trial.ts';
import type { Layout, Truth } from './virtual-study.ts';

/**
 * A small part of `npm run calibrate`, held to the goals with three Monte Carlo standard errors of the goal itself:
 * false detections at most 5.5 %, 95 % intervals that miss at most 6 %.
 */
const STUDIES = 200;
const truth = (background: number, releasePerGram: number, scatter: number, recovery = 1): Truth => ({
  background,
  releasePerGram,
  backgroundScatter: scatter,
  releaseScatter: scatter,
  recovery,
  recoverySd: recovery === 1 ? 0 : 0.05,
});
const layout = (specimens: number, controls: number, fraction = 1, spikes = 0): Layout => ({
  specimens,
  controls,
  massG: 1,
  specimenFraction: fraction,
  controlFraction: fraction,
  spikes,
  addedPerSpike: 40,
});
const most = (goal: number, n: number): number => goal + 3 * Math.sqrt((goal * (1 - goal)) / n);
const misses = (t: Trial): number => (t.missedBelow + t.missedAbove) / (t.studies - t.refused);

describe('calibration of judgements, small', () => {
  it.each([
    ['low background', truth(0.2, 0, 0), layout(6, 6)],
    ['scattered background, four and four', truth(20, 0, 1), layout(4, 4)],
    ['scattered background, three and five', truth(20, 0, 1), layout(3, 5)],
    ['a quarter looked at, recovery 0.6', truth(5, 0, 0.2, 0.6), layout(6, 6, 0.25, 3)],
  ])('detects nothing in %s more than one time in twenty', (_, of, by) => {
    const trial = runTrial(of, by, { studies: STUDIES, seed: 11 });
    expect(trial.refused).toBe(0);
    expect(trial.detected / STUDIES).toBeLessThanOrEqual(most(0.055, STUDIES));
    expect(misses(trial)).toBeLessThanOrEqual(most(0.06, STUDIES));
    expect(Math.abs(trial.medianValue)).toBeLessThan(0.15 * trial.medianWidth);
  });

  it.each([
    ['plain counts', truth(5, 10, 0), layout(6, 6)],
    ['strong scatter, four and four', truth(1, 100, 1), layout(4, 4)],
    ['scatter over a low background, three and five', truth(0.2, 100, 0.5), layout(3, 5)],
    ['scatter, six and three', truth(5, 10, 1), layout(6, 3)],
    ['recovery 0.6 from three spikes', truth(5, 100, 0.2, 0.6), layout(6, 6, 1, 3)],
  ])('covers the release with %s', (_, of, by) => {
    const trial = runTrial(of, by, { studies: STUDIES, seed: 12 });
    expect(misses(trial)).toBeLessThanOrEqual(most(0.06, STUDIES));
    expect(trial.detected / STUDIES).toBeGreaterThan(0.3);
  });

  it('refuses what lies below the minimum', () => {
    expect(runTrial(truth(5, 0, 0), layout(3, 4), { studies: 5, seed: 1 }).refused).toBe(5);
    expect(runTrial(truth(5, 0, 0), layout(2, 10), { studies: 5, seed: 1 }).refused).toBe(5);
    expect(runTrial(truth(5, 0, 0), layout(3, 5), { studies: 5, seed: 1 }).refused).toBe(0);
  });
});
