import { describe, expect, it } from 'vitest';
import type { StandingJson } from '../../api/index.ts';
import { FIRST_GUESS, guessFrom } from './from-study.ts';

const interval = (value: number) => ({ value, lower: value / 2, upper: value * 2, confidence: 0.95 });
const point = (
  kind: StandingJson['points'][number]['kind'],
  more: Partial<StandingJson['points'][number]> = {},
) => ({
  run: kind,
  name: kind,
  kind,
  mass_g: kind === 'specimen-run' ? 2 : null,
  passed: 0.8,
  examined: 0.5,
  count: { state: 'counted', count: 4, undecided: 0 } as const,
  background_from: kind === 'act-control',
  ...more,
});
const standing = (more: Partial<StandingJson['claim']>, points: StandingJson['points']): StandingJson =>
  ({
    claim: { background: {}, joint: null, net_per_gram: null, ...more },
    points,
  }) as unknown as StandingJson;

describe('the first guess of a plan', () => {
  it('is a guess where nothing was counted', () => {
    expect(guessFrom(undefined)).toEqual(FIRST_GUESS);
    const none = guessFrom(standing({}, [point('specimen-run', { count: { state: 'not-looked' } })]));
    expect(none).toMatchObject({ background: 5, scatter: 40, portion: 1, looked: 100, runs: 6, spikes: 0 });
  });

  it('is what the study counted so far', () => {
    const claim = {
      net_per_gram: interval(3.14),
      background: {
        mean_per_run: 2.66,
        lower: 1,
        upper: 5,
        recovery: { value: 0.82, lower: 0.7, upper: 0.9 },
      },
      joint: { scatter: { controls: interval(0.234) } },
    } as unknown as Partial<StandingJson['claim']>;
    const points = [
      point('specimen-run'),
      point('specimen-run'),
      point('act-control'),
      point('procedural-blank'),
      point('spiked-run'),
    ];
    expect(guessFrom(standing(claim, points))).toMatchObject({
      background: 2.7,
      scatter: 23,
      release: 3.1,
      portion: 2,
      recovery: 82,
      looked: 40,
      runs: 2,
      controls: 1,
      spikes: 1,
    });
  });

  it('asks for as much again as the background where nothing was released', () => {
    const claim = {
      net_per_gram: interval(-1),
      background: { mean_per_run: 6, lower: 3, upper: 9 },
    } as unknown as Partial<StandingJson['claim']>;
    expect(guessFrom(standing(claim, [point('specimen-run')])).release).toBe(3);
  });
});
