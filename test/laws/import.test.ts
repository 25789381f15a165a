import { describe, expect, it } from 'vitest';
import { breaches } from './import-law.ts';
import { isTest, sourceFiles } from './source-files.ts';

describe('the import law', () => {
  const files = [...sourceFiles('src'), ...sourceFiles('demo')].filter((f) => !isTest(f));

  it('is kept by every file', () => {
    expect(files.length).toBeGreaterThan(20);
    expect(files.flatMap(breaches)).toEqual([]);
  });

  it.each([
    ['an upward import', 'src/units/x.ts', "import { a } from '../study/index.ts';"],
    [
      'a type-only upward import',
      'src/science/imaging/x.ts',
      "import type { A } from '../../study/index.ts';",
    ],
    ['a re-export upward', 'src/study/x.ts', "export { a } from '../actions/index.ts';"],
    ['a dynamic import upward', 'src/actions/x.ts', "const a = await import('../store/index.ts');"],
    ['a store named by a door', 'src/server/x.ts', "import { a } from '../store/index.ts';"],
    ['a door named by a door', 'src/cli/x.ts', "import { a } from '../server/index.ts';"],
    ['a sibling room of science', 'src/science/imaging/x.ts', "import { a } from '../counting/index.ts';"],
    ['Node in a pure room', 'src/science/maths/x.ts', "import fs from 'node:fs';"],
    ['a package in a pure room', 'src/study/x.ts', "import { z } from 'zod';"],
    ['an alias', 'src/study/x.ts', "import { a } from '#store';"],
    ['a side door into a room', 'src/study/x.ts', "import { a } from '../units/quantity.ts';"],
    ['deeds named by a screen', 'src/web/x.tsx', "import { a } from '../actions/index.ts';"],
    ['a room nobody knows', 'src/elsewhere/x.ts', "import { a } from '../units/index.ts';"],
  ])('catches %s', (_fault, path, text) => {
    expect(breaches({ path, text })).toHaveLength(1);
  });

  it('is not deceived by comments and strings', () => {
    const text =
      "// import { a } from '../main/retentate.ts'\nexport const s = `import x from '../main/x.ts'`;";
    expect(breaches({ path: 'src/units/x.ts', text })).toEqual([]);
  });
});
