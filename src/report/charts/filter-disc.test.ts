// @vitest-environment jsdom
import { describe, expect, it } from 'vitest';
import { type DiscSquare, type FilterDisc, filterDisc, stateInWords } from './filter-disc.ts';

const drawn = (squares: readonly DiscSquare[], more: Partial<FilterDisc> = {}) => {
  const page = new DOMParser().parseFromString(
    filterDisc({
      label: 'F-01',
      diameterMm: 41,
      pitchMm: 3.1,
      columns: 14,
      rows: 14,
      size: 300,
      name: 'f-01',
      squares,
      ...more,
    }),
    'image/svg+xml',
  );
  expect(page.querySelector('parsererror')).toBeNull();
  return page;
};

describe('filterDisc', () => {
  it('draws the four states so that each can be told from the others', () => {
    const page = drawn([
      { column: 6, row: 6, state: 'looked', kept: 3 },
      { column: 7, row: 6, state: 'photographed', kept: null },
      { column: 6, row: 7, state: 'cannot-be-seen', kept: null },
      { column: 7, row: 7, state: 'not-looked', kept: null },
    ]);
    const fills = ['looked', 'photographed', 'cannot-be-seen', 'not-looked'].map((state) =>
      page.querySelector(`.square.${state}`)!.getAttribute('fill'),
    );
    expect(new Set(fills).size).toBe(4);
  });

  it('never says zero for a square nobody looked at', () => {
    for (const state of ['photographed', 'not-looked', 'cannot-be-seen'] as const) {
      expect(stateInWords({ state, kept: null })).not.toMatch(/\bzero\b|\b0\b|none/);
    }
    expect(stateInWords({ state: 'looked', kept: 0 })).toBe('looked at, none seen');
    expect(drawn([]).querySelector('desc')!.textContent).toContain('nobody looked yet');
  });

  it('leaves out squares that lie wholly outside the disc', () => {
    const page = drawn([{ column: 0, row: 0, state: 'looked', kept: 1 }]);
    expect(page.querySelector('.square')).toBeNull();
  });

  it('counts squares and particles in its description', () => {
    const page = drawn([
      { column: 6, row: 6, state: 'looked', kept: 3 },
      { column: 7, row: 6, state: 'looked', kept: 0 },
    ]);
    expect(page.querySelector('desc')!.textContent).toContain('2 squares looked at');
    expect(page.querySelector('desc')!.textContent).toContain('3 particles kept');
  });

  it('makes squares with an address links with names, and escapes the label', () => {
    const page = drawn([{ column: 6, row: 6, state: 'looked', kept: 0, href: '#s' }], { label: '<b>F</b>' });
    expect(page.querySelector('b')).toBeNull();
    expect(page.querySelector('a')!.getAttribute('aria-label')).toBe(
      '<b>F</b>, Square 7, 7: looked at, none seen',
    );
  });

  it('refuses a disc without size', () => {
    expect(() => drawn([], { diameterMm: 0 })).toThrow(RangeError);
    expect(() => drawn([], { pitchMm: -1 })).toThrow(RangeError);
  });
});
