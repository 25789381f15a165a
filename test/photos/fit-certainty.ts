/**
 * `npx tsx test/photos/fit-certainty.ts [--sets ordinary,hard,blank,example]`: fits the chance of being real to all
 * candidates on the tuned seeds (and the example), and prints the weights for `chance-real.ts` with what they say and what
 * is so, on the seeds that were fitted and on those held out.
 *
 * Logistic regression by Newton's steps, with a ridge of one candidate's weight so that no weight runs away.
 */
import { parseArgs } from 'node:util';
import { type Candidate, candidatesOf, SIGN_NAMES } from './candidates.ts';
import type { Family, SetName } from './drawing/sets.ts';
import { openPhoto } from './open-photo.ts';
import { storedExample, storedSet } from './sets-on-disk.ts';

const { values } = parseArgs({
  options: { sets: { type: 'string', default: 'ordinary,hard,blank,example' } },
});

async function gather(family: Family): Promise<Candidate[]> {
  const all: Candidate[] = [];
  for (const set of values.sets.split(',')) {
    if (set === 'example' && family === 'held-out') continue;
    const photos = set === 'example' ? storedExample() : storedSet(set as SetName, family);
    for await (const photo of photos) all.push(...candidatesOf(await openPhoto(photo.path), photo.truth));
  }
  return all;
}

const rowOf = (c: Candidate): number[] => [1, ...SIGN_NAMES.map((name) => c.signs[name])];

/** Solves a·x = b by elimination with pivots. */
function solve(a: number[][], b: number[]): number[] {
  const n = b.length;
  const m = a.map((row, i) => [...row, b[i]!]);
  for (let k = 0; k < n; k++) {
    let p = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(m[i]![k]!) > Math.abs(m[p]![k]!)) p = i;
    [m[k], m[p]] = [m[p]!, m[k]!];
    for (let i = k + 1; i < n; i++) {
      const f = m[i]![k]! / m[k]![k]!;
      for (let j = k; j <= n; j++) m[i]![j]! -= f * m[k]![j]!;
    }
  }
  const x = new Array<number>(n).fill(0);
  for (let k = n - 1; k >= 0; k--) {
    let s = m[k]![n]!;
    for (let j = k + 1; j < n; j++) s -= m[k]![j]! * x[j]!;
    x[k] = s / m[k]![k]!;
  }
  return x;
}

function weigh(candidates: readonly Candidate[]): number[] {
  const rows = candidates.map(rowOf);
  const n = SIGN_NAMES.length + 1;
  let w = new Array<number>(n).fill(0);
  for (let turn = 0; turn < 40; turn++) {
    const g = w.map((v, k) => (k === 0 ? 0 : -v));
    const h = Array.from({ length: n }, (_, i) =>
      Array.from({ length: n }, (_, k) => (i === k ? (i === 0 ? 1e-6 : 1) : 0)),
    );
    rows.forEach((row, r) => {
      const p = chanceOf(row, w);
      for (let i = 0; i < n; i++) {
        g[i]! += row[i]! * ((candidates[r]!.real ? 1 : 0) - p);
        for (let k = 0; k < n; k++) h[i]![k]! += p * (1 - p) * row[i]! * row[k]!;
      }
    });
    const step = solve(h, g);
    w = w.map((v, k) => v + step[k]!);
    if (Math.max(...step.map(Math.abs)) < 1e-7) break;
  }
  return w;
}

const chanceOf = (row: readonly number[], w: readonly number[]): number =>
  1 / (1 + Math.exp(-row.reduce((s, v, k) => s + v * w[k]!, 0)));

function table(candidates: readonly Candidate[], w: readonly number[]): string {
  const lines: string[] = [];
  const said = candidates.map((c) => ({ chance: chanceOf(rowOf(c), w), real: c.real }));
  for (let k = 0; k < 10; k++) {
    const own = said.filter((s) => Math.min(9, Math.floor(s.chance * 10)) === k);
    if (own.length === 0) continue;
    const mean = own.reduce((s, c) => s + c.chance, 0) / own.length;
    const real = own.filter((c) => c.real).length / own.length;
    lines.push(`  said ${mean.toFixed(2)}  real ${real.toFixed(2)}  of ${own.length}`);
  }
  const loss = said.reduce((s, c) => s - Math.log(Math.max(1e-9, c.real ? c.chance : 1 - c.chance)), 0);
  lines.push(`  mean log loss ${(loss / said.length).toFixed(4)}`);
  for (const limit of [0.35, 0.4, 0.45, 0.5, 0.55]) {
    const kept = said.filter((s) => s.chance >= limit);
    const lost = said.filter((s) => s.chance < limit && s.real).length;
    lines.push(`  from ${limit}: ${kept.filter((s) => !s.real).length} kept wrongly, ${lost} lost`);
  }
  return lines.join('\n');
}

const tuned = await gather('tuned');
const weights = weigh(tuned);
console.log(`Fitted to ${tuned.length} candidates, ${tuned.filter((c) => c.real).length} of them real.`);
console.log(`offset: ${weights[0]!.toFixed(2)}`);
SIGN_NAMES.forEach((name, k) => {
  console.log(`${name}: ${weights[k + 1]!.toFixed(2)}`);
});
console.log(`Tuned seeds:\n${table(tuned, weights)}`);
const heldOut = await gather('held-out');
console.log(`Held-out seeds:\n${table(heldOut, weights)}`);
