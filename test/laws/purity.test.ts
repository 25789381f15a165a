import { parseSync } from 'oxc-parser';
import { describe, expect, it } from 'vitest';
import { FLOORS, roomOf } from './import-law.ts';
import { isTest, type SourceFile, sourceFiles } from './source-files.ts';

/** The type check already refuses Node and the DOM here; these belong to the language itself. */
const AMBIENT: Readonly<Record<string, readonly string[]>> = {
  Date: ['now', 'new'],
  Math: ['random'],
  Intl: ['*'],
};
const LOCALE = /^toLocale|^localeCompare$/;

interface Node {
  readonly type: string;
  readonly start: number;
  readonly [key: string]: unknown;
}

function walk(node: unknown, visit: (n: Node) => void): void {
  if (Array.isArray(node)) for (const n of node) walk(n, visit);
  else if (node && typeof node === 'object') {
    if (typeof (node as Node).type === 'string') visit(node as Node);
    for (const value of Object.values(node)) walk(value, visit);
  }
}

const nameOf = (node: unknown): string => (node as { name?: string } | undefined)?.name ?? '';

/** Clock, chance and locale used by a file. */
function ambient(file: SourceFile): string[] {
  const found: string[] = [];
  walk(parseSync(file.path, file.text).program, (n) => {
    const at = () => `${file.path}:${file.text.slice(0, n.start).split('\n').length}`;
    if (n.type === 'MemberExpression') {
      const object = nameOf(n.object);
      const property = nameOf(n.property);
      const bad = AMBIENT[object];
      if (bad && (bad.includes('*') || bad.includes(property))) found.push(`${at()} ${object}.${property}`);
      if (LOCALE.test(property)) found.push(`${at()} .${property}`);
    }
    if (
      n.type === 'NewExpression' &&
      nameOf(n.callee) === 'Date' &&
      (n.arguments as unknown[]).length === 0
    ) {
      found.push(`${at()} new Date()`);
    }
  });
  return found;
}

describe('the pure floors', () => {
  const pure = sourceFiles('src').filter(
    (f) => !isTest(f) && (FLOORS[roomOf(f.path).split('/')[0]!] ?? 9) <= 4,
  );

  it('use no clock, no unseeded chance and no locale', () => {
    expect(pure.flatMap(ambient)).toEqual([]);
  });

  it.each(['Date.now()', 'new Date()', 'Math.random()', 'new Intl.NumberFormat()', '(5).toLocaleString()'])(
    'catches %s',
    (text) => {
      expect(ambient({ path: 'src/units/x.ts', text })).toHaveLength(1);
    },
  );

  it('lets a comment speak of them', () => {
    expect(ambient({ path: 'src/units/x.ts', text: '// Math.random() is for main' })).toEqual([]);
  });
});
