import { describe, expect, it } from 'vitest';
import { CAUSES, type Cause } from '../step-kinds/index.ts';
import { CANDIDATES } from './candidates.ts';
import { smallestControlSet, stillTangled } from './control-set.ts';

const names = (causes: readonly Cause[]) =>
  smallestControlSet(causes).chosen.map(({ candidate }) => candidate.name);
const LOOKED: readonly Cause[] = ['filter', 'photograph', 'scorer'];

/** Every pair of causes that some candidate parts is parted by the chosen ones: recomputed from the declarations alone. */
function parts(causes: readonly Cause[], chosen: readonly string[]): boolean {
  const pattern = (cause: Cause, among: readonly string[]) =>
    CANDIDATES.filter(({ name }) => among.includes(name))
      .map(({ holds }) => (holds.includes(cause) ? 1 : 0))
      .join('');
  const all = CANDIDATES.map(({ name }) => name);
  const groups = (among: readonly string[]) => new Set(causes.map((cause) => pattern(cause, among))).size;
  return groups(chosen) === groups(all);
}

describe('the smallest set of controls', () => {
  it('tells apart every cause that can be told apart, each by a pattern of its own', () => {
    const set = smallestControlSet(CAUSES);
    expect(set.chosen[0]!.candidate.name).toBe('act-control');
    expect(set.together).toEqual([]);
    expect(parts(CAUSES, names(CAUSES))).toBe(true);
  });

  it('holds no control that could be left out', () => {
    for (const causes of [
      CAUSES,
      ['product', 'liquid', 'vessel', 'air', ...LOOKED] as const,
      ['product', 'act', 'tool', 'matrix', 'person', 'air', ...LOOKED] as const,
    ]) {
      const chosen = names(causes);
      for (const left of chosen.slice(1)) {
        expect(
          parts(
            causes,
            chosen.filter((name) => name !== left),
          ),
          `without ${left}`,
        ).toBe(false);
      }
    }
  });

  it('needs one control where only the product and one other cause are there', () => {
    expect(names(['product', 'air'])).toEqual(['act-control']);
    expect(smallestControlSet(['product', 'air']).chosen[0]!.buys).toBe(
      'Tells the product apart from dust from the air.',
    );
  });

  it('asks for a matrix blank only where there is food, and another tool only where there is one', () => {
    expect(names(['product', 'act', 'liquid', ...LOOKED])).not.toContain('matrix-blank');
    expect(names(['product', 'act', 'liquid', ...LOOKED])).not.toContain('other-tool');
    expect(names(CAUSES)).toContain('matrix-blank');
    expect(names(CAUSES)).toContain('other-tool');
  });

  it('gives the same set every time, whatever the order of the causes', () => {
    const turned = [...CAUSES].reverse();
    expect([...names(turned)].sort()).toEqual([...names(CAUSES)].sort());
  });

  it('is misused without a product', () => {
    expect(() => smallestControlSet(['air'])).toThrow(RangeError);
  });
});

describe('what the controls at hand leave tangled', () => {
  it('names the one more control that parts most for its work', () => {
    const { tangled, next } = stillTangled(['product', 'act', 'air', 'reagent', ...LOOKED], ['act-control']);
    expect(tangled).toContainEqual(['act', 'air']);
    expect(tangled).not.toContainEqual(['product', 'act']);
    expect(next?.tellsApart.length).toBeGreaterThan(0);
  });

  it('names none when nothing more can be parted', () => {
    expect(stillTangled(['product', 'air'], ['act-control'])).toEqual({ tangled: [], next: null });
  });
});
