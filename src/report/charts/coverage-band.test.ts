// @vitest-environment jsdom
import { describe, expect, it } from 'vitest';
import { coverageBand } from './coverage-band.ts';

const drawn = (given: Parameters<typeof coverageBand>[0]) => {
  const page = new DOMParser().parseFromString(coverageBand(given), 'image/svg+xml');
  expect(page.querySelector('parsererror')).toBeNull();
  return page;
};

describe('coverageBand', () => {
  const steps = ['rinse', 'cut', 'filter <x>'];
  it('weaves one pass for each control and step', () => {
    const page = drawn({
      steps,
      threads: [
        { control: 'act control', grades: ['same', 'different', 'unknown'] },
        { control: 'blank', grades: ['same', 'scaled', 'same'] },
      ],
      width: 700,
      name: 'coverage',
    });
    expect(page.querySelectorAll('.warp')).toHaveLength(3);
    expect(page.querySelectorAll('.pass')).toHaveLength(6);
    expect(page.querySelectorAll('.pass.different')).toHaveLength(1);
    expect(page.querySelector('.pass.unknown title')!.textContent).toBe('act control, filter <x>: unknown');
    expect(page.querySelector('desc')!.textContent).toContain(
      'act control differs at cut and is unknown at filter <x>.',
    );
    expect(page.querySelector('desc')!.textContent).toContain('blank repeats every step.');
  });

  it('says plainly when nothing is covered', () => {
    expect(drawn({ steps, threads: [], width: 400, name: 'c' }).querySelector('desc')!.textContent).toBe(
      'No control repeats any step yet.',
    );
  });

  it('refuses a thread that does not span the steps', () => {
    expect(() =>
      coverageBand({ steps, threads: [{ control: 'b', grades: ['same'] }], width: 400, name: 'c' }),
    ).toThrow(/3 grades are needed, given 1/);
  });
});
