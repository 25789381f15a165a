import { readFile } from 'node:fs/promises';
import { CompletenessJson } from '../api/index.ts';
import { type ChanceOfFinding, chanceFromDrawn } from '../science/counting/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';

/** What `find --completeness --json` wrote: the share of known pieces of a band that was found, all shapes and contrasts together. */
export async function chanceFromFile(path: string): Promise<Outcome<ChanceOfFinding>> {
  let given: unknown;
  try {
    given = JSON.parse(await readFile(path, 'utf8'));
  } catch (error) {
    const because =
      (error as NodeJS.ErrnoException).code === 'ENOENT'
        ? 'there is no such file'
        : error instanceof SyntaxError
          ? 'it is not JSON'
          : (error as Error).message;
    return refused({
      why: 'unreadable',
      message: `${path}: ${because}; give what find --completeness --json wrote.`,
    });
  }
  const read = CompletenessJson.safeParse(given);
  if (!read.success) {
    return refused({
      why: 'not-of-the-shape',
      message: `${path} is not of the format retentate/completeness/1; give what find --completeness --json wrote.`,
    });
  }
  return done(chanceFromDrawn(read.data.cells.map(({ size_um, ...cell }) => ({ ...cell, sizeUm: size_um }))));
}
