import { describe, expect, it } from 'vitest';
import { address, ROUTES } from './routes.ts';

describe('routes', () => {
  it('name every part of their path in their params, and nothing else', () => {
    for (const [name, route] of Object.entries(ROUTES)) {
      const inPath = [...route.path.matchAll(/\{(\w+)\}/g)].map((m) => m[1]).sort();
      const declared = 'params' in route ? Object.keys(route.params.shape).sort() : [];
      expect(declared, name).toEqual(inPath);
    }
  });

  it('are each found at one method and path only', () => {
    const places = Object.values(ROUTES).map((r) => `${r.method} ${r.path}`);
    expect(new Set(places).size).toBe(places.length);
  });
});

describe('address', () => {
  it('encodes each part', () => {
    expect(address('/api/photos/{photo}', { photo: '../a b' })).toBe('/api/photos/..%2Fa%20b');
  });

  it('refuses a missing part', () => {
    expect(() => address('/api/photos/{photo}')).toThrow(RangeError);
  });
});
