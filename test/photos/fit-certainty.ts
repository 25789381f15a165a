/**
 * `npx tsx test/photos/fit-certainty.ts [--sets ordinary,hard,blank,example]`: fits the chance of being real to all
 * candidates on the tuned and fitting seeds (and the example), and prints the weights for `chance-real.ts` with what they
 * say and what is so, on the seeds that were fitted and on those held out.
 */
import { parseArgs } from 'node:util';
import { type Candidate, candidatesOf, SIGN_NAMES } from './candidates.ts';
import type { Family, SetName } from './drawing/sets.ts';
import { fitLogistic, logistic, saidAndSo } from './logistic.ts';
import { openPhoto } from './open-photo.ts';
import { storedExample, storedSet } from './sets-on-disk.ts';

const { values } = parseArgs({
  options: { sets: { type: 'string', default: 'ordinary,hard,blank,example' } },
});

async function gather(family: Family): Promise<Candidate[]> {
  const all: Candidate[] = [];
  for (const set of values.sets.split(',')) {
    if (set === 'example' && family !== 'tuned') continue;
    const photos = set === 'example' ? storedExample() : storedSet(set as SetName, family);
    for await (const photo of photos) all.push(...candidatesOf(await openPhoto(photo.path), photo.truth));
  }
  return all;
}

const rowOf = (c: Candidate): number[] => [1, ...SIGN_NAMES.map((name) => c.signs[name])];
const table = (candidates: readonly Candidate[], w: readonly number[]): string =>
  saidAndSo(candidates.map((c) => ({ chance: logistic(rowOf(c), w), so: c.real })));

const seen = [...(await gather('tuned')), ...(await gather('fitting'))];
const weights = fitLogistic(
  seen.map(rowOf),
  seen.map((c) => c.real),
);
console.log(`Fitted to ${seen.length} candidates, ${seen.filter((c) => c.real).length} of them real.`);
console.log(`offset: ${weights[0]!.toFixed(2)}`);
SIGN_NAMES.forEach((name, k) => {
  console.log(`${name}: ${weights[k + 1]!.toFixed(2)}`);
});
console.log(`Tuned and fitting seeds:\n${table(seen, weights)}`);
console.log(`Held-out seeds:\n${table(await gather('held-out'), weights)}`);
