import { describe, expect, it } from 'vitest';
import { pathTo, readWhere } from './where.ts';

describe('addresses', () => {
  it('reads back every address it writes', () => {
    for (const where of [
      { page: 'studies' },
      { page: 'stands', study: 'a b/ü' },
      { page: 'runs', study: 's', item: null },
      { page: 'bench', study: 's', run: 'r 1' },
      { page: 'labels', study: 's' },
      { page: 'network' },
      { page: 'pair' },
      { page: 'filters', study: 's', item: 'F/1' },
      { page: 'photo', study: 's', filter: 'f', photo: 'p?#' },
      { page: 'people' },
      { page: 'join' },
      { page: 'method', name: null },
      { page: 'method', name: 'planning' },
      { page: 'beside', study: 's', photos: [null, null] },
      { page: 'beside', study: 's', photos: ['p/1', null] },
      { page: 'beside', study: 's', photos: ['p/1', 'q'] },
    ] as const) {
      expect(readWhere(pathTo(where))).toEqual(where);
    }
  });
  it('says nowhere for what it does not know', () => {
    for (const path of ['/x', '/studies', '/studies/a/kitchen', '/studies/a/runs/b/c']) {
      expect(readWhere(path).page).toBe('nowhere');
    }
  });
  it('survives a broken escape', () => {
    expect(readWhere('/studies/%E0%A4%A')).toEqual({ page: 'stands', study: '%E0%A4%A' });
  });
});
