import type { CountingInput } from './counting-input.ts';
import type { Interval } from './interval.ts';
import { type JudgeOptions, judge } from './judge.ts';
import type { Test } from './judgement.ts';

/** One defensible choice, and the counts as they would be under it. */
export interface Choice {
  /** What was chosen otherwise: size floor, undecided pieces, a run left out … */
  readonly what: string;
  readonly choice: string;
  readonly input: CountingInput;
}

export interface RobustnessRow {
  readonly what: string;
  readonly choice: string;
  /** Null where the counts under this choice cannot be judged; `refusal` says why. */
  readonly above: boolean | null;
  readonly refusal: string | null;
  readonly p: number | null;
  readonly netPerGram: Interval | null;
  readonly agrees: boolean;
}

export interface Robustness {
  readonly base: RobustnessRow;
  readonly rows: readonly RobustnessRow[];
  /** Rows that read as the base does, of all rows that could be judged. */
  readonly agreeing: number;
  readonly judged: number;
  /** Lowest and highest net per gram over all rows. */
  readonly span: { readonly lowest: number; readonly highest: number } | null;
}

/** More runs than this are not left out one by one; an evenly spaced choice of them is. */
const MOST_LEFT_OUT = 40;

/** In a large study one run hardly weighs, and each try takes long. */
const MOST_OF_MANY = 5;

const spaced = (n: number): number[] => {
  const most = n <= MOST_LEFT_OUT ? n : MOST_OF_MANY;
  return Array.from({ length: most }, (_, i) => Math.floor((i * n) / most));
};

/** Every run left out once, where at least one is left. */
export function oneRunLeftOut(input: CountingInput): Choice[] {
  const without = <T>(list: readonly T[], i: number): T[] => list.filter((_, j) => j !== i);
  const specimens =
    input.portions.length < 2
      ? []
      : spaced(input.portions.length).map((i) => ({
          what: 'one run left out',
          choice: `without specimen run “${input.portions[i]!.name}”`,
          input: { ...input, portions: without(input.portions, i) },
        }));
  const controls =
    input.controls.length < 2
      ? []
      : spaced(input.controls.length).map((i) => ({
          what: 'one run left out',
          choice: `without control “${input.controls[i]!.name}”`,
          input: { ...input, controls: without(input.controls, i) },
        }));
  return [...specimens, ...controls];
}

/** The row of one choice; by the base's own test where these runs allow it: a run less must not change the question too. */
function rowOf(
  { what, choice: name }: Omit<Choice, 'input'>,
  outcome: ReturnType<typeof judge>,
  test: Test['name'] | null,
  base: boolean | null,
): RobustnessRow {
  if (!outcome.ok) {
    const refusal = outcome.refusal.message;
    return { what, choice: name, above: null, refusal, p: null, netPerGram: null, agrees: false };
  }
  const { tests, netPerGram } = outcome.value;
  const found = tests.find((t) => t.name === test && t.canReach) ?? tests.find((t) => t.primary)!;
  const { above, p } = found;
  return { what, choice: name, above, refusal: null, p, netPerGram, agrees: base === null || above === base };
}

/**
 * The decision under every defensible choice: each test, each run left out once, and the choices handed in (undecided
 * pieces in or out, size floors, other controls). The share that agrees says how far the claim hangs on one of them.
 * Source: practice of specification curves: Simonsohn, Simmons & Nelson 2020, Nat. Hum. Behav. 4:1208.
 * Holds for: choices that were defensible before the counts were seen.
 * Deceives when: read as a probability: the choices are neither drawn at random nor equally good, and share their data.
 */
export function robustness(
  base: CountingInput,
  choices: readonly Choice[],
  options: JudgeOptions = {},
): Robustness {
  const judged = judge(base, options);
  const first = rowOf({ what: 'as judged', choice: 'primary test, all runs' }, judged, null, null);
  const rows: RobustnessRow[] = [];
  if (judged.ok) {
    for (const test of judged.value.tests) {
      if (test.primary || !test.canReach) continue;
      rows.push({
        what: 'another test',
        choice: test.name,
        above: test.above,
        refusal: null,
        p: test.p,
        netPerGram: judged.value.netPerGram,
        agrees: test.above === judged.value.aboveBackground,
      });
    }
  }
  const test = judged.ok ? judged.value.tests.find((t) => t.primary)!.name : null;
  const add = (choice: Choice, by: Test['name'] | null): void => {
    rows.push(rowOf(choice, judge(choice.input, options), by, first.above));
  };
  for (const choice of oneRunLeftOut(base)) add(choice, test);
  for (const choice of choices) add(choice, null);
  const able = rows.filter((row) => row.above !== null);
  const nets = [first, ...able].flatMap((row) => (row.netPerGram ? [row.netPerGram.value] : []));
  return {
    base: first,
    rows,
    agreeing: able.filter((row) => row.agrees).length,
    judged: able.length,
    span: nets.length > 0 ? { lowest: Math.min(...nets), highest: Math.max(...nets) } : null,
  };
}
