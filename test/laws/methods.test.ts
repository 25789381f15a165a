import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { METHODS } from '../../src/web/methods/methods.ts';

describe('method pages', () => {
  it('are all listed in the application, and all that are listed are there', () => {
    const written = readdirSync('docs/methods').map((file) => file.replace(/\.md$/, ''));
    expect(METHODS.map(({ name }) => name).sort()).toEqual(written.sort());
  });
});
