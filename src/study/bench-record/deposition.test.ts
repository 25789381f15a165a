import { describe, expect, it } from 'vitest';
import { deposition, type OpenDish } from './deposition.ts';

const dish = (more: Partial<OpenDish> = {}): OpenDish => ({
  name: 'dish 1',
  session: '1',
  count: 7,
  examined: 1,
  minutesOpen: 60,
  ...more,
});

describe('expected deposition', () => {
  it('scales the count and its exact interval by the minutes', () => {
    const fell = deposition(30, '1', [dish()], 0.95);
    if (!fell.ok) throw new Error(fell.refusal.message);
    expect(fell.value.expected).toBeCloseTo(3.5, 12);
    // Garwood 1936: 7 counted, 95 %: 2.814 to 14.423 (table of exact Poisson limits); half of it here.
    expect(fell.value.lower).toBeCloseTo(2.814 / 2, 3);
    expect(fell.value.upper).toBeCloseTo(14.423 / 2, 3);
    expect(fell.value.perHour).toBeCloseTo(7, 12);
  });

  it('adds dishes up and takes account of what was not looked at', () => {
    const fell = deposition(60, '1', [dish(), dish({ name: 'dish 2', count: 1, examined: 0.5 })], 0.95);
    if (!fell.ok) throw new Error(fell.refusal.message);
    expect(fell.value.expected).toBeCloseTo((60 * 8) / (60 + 30), 12);
  });

  it('takes the dishes of the session, and all where the session has none', () => {
    const dishes = [dish({ session: '1', count: 2 }), dish({ name: 'dish 2', session: '2', count: 20 })];
    expect(deposition(60, '1', dishes, 0.95)).toMatchObject({
      value: { expected: 2, from: 'this session', dishes: ['dish 1'] },
    });
    expect(deposition(60, '3', dishes, 0.95)).toMatchObject({
      value: { expected: 11, from: 'all sessions' },
    });
  });

  it('gives none seen its upper end, never a bare nought', () => {
    const none = deposition(60, '1', [dish({ count: 0 })], 0.95);
    if (!none.ok) throw new Error(none.refusal.message);
    // 3.689: two-sided 95 % upper limit at none counted (Garwood 1936).
    expect(none.value).toMatchObject({ expected: 0, lower: 0 });
    expect(none.value.upper).toBeCloseTo(3.689, 3);
  });

  it.each([
    ['no-dish', []],
    ['dish-not-looked', [dish({ count: null, examined: null })]],
    ['dish-not-timed', [dish({ minutesOpen: null })]],
  ] as const)('refuses with %s', (why, dishes) => {
    expect(deposition(60, '1', dishes, 0.95)).toMatchObject({ ok: false, refusal: { why } });
  });
});
