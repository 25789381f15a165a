/** Puts what drills, tests and blinded rounds say into the counts that are judged. */
import { type CountingInput, judge } from '../science/counting/index.ts';
import type { InputNote, StudyInput } from '../study/index.ts';
import type { CountedStudy } from './count-runs.ts';

const twoFigures = (n: number): string => String(Number(n.toPrecision(2)));

/** The counts with the drill and the tested part; a range over pieces left undecided goes into the notes. */
export function inputWith(plain: StudyInput, counted: CountedStudy, seed: number): StudyInput {
  const { drill, confirmation } = counted.evidence;
  if (plain.input.portions.length === 0) return plain;
  const input: CountingInput = { ...plain.input, drill, ...(confirmation ? { confirmation } : {}) };
  const note = undecidedNote(input, counted, seed);
  return { ...plain, input, notes: note ? [...plain.notes, note] : plain.notes };
}

/**
 * Pieces on which nobody agreed are counted as found. What the number would be at worst either way: none of the product's
 * and all of the controls', and the other way round.
 */
function undecidedNote(input: CountingInput, counted: CountedStudy, seed: number): InputNote | null {
  const { undecided } = counted.evidence;
  if (undecided === null) return null;
  const names = new Map(counted.runs.map((run) => [run.run.name, undecided.byRun.get(run.run.id) ?? 0]));
  const of = (runs: readonly { readonly name: string }[]): number =>
    runs.reduce((sum, run) => sum + (names.get(run.name) ?? 0), 0);
  const open = of(input.portions) + of(input.controls);
  if (open === 0) return null;
  const without = <R extends { readonly name: string; readonly count: number }>(
    runs: readonly R[],
  ): readonly R[] =>
    runs.map((run) => ({ ...run, count: Math.max(0, run.count - (names.get(run.name) ?? 0)) }));
  const least = judge({ ...input, portions: without(input.portions) }, { seed });
  const most = judge({ ...input, controls: without(input.controls) }, { seed });
  const range =
    least.ok && most.ok
      ? `by them the amount moves between ${twoFigures(least.value.netPerGram.value)} and ${twoFigures(most.value.netPerGram.value)} per gram, and the excess ${
          least.value.aboveBackground === most.value.aboveBackground
            ? 'stays what it is'
            : 'stands or falls with them'
        }`
      : 'their part in the amount cannot be told';
  return {
    why: 'pieces-undecided',
    message: `${open} ${open === 1 ? 'piece stays' : 'pieces stay'} undecided after the round “${undecided.round}” and ${open === 1 ? 'is' : 'are'} counted as found: ${range}.`,
    place: 'evidence',
    run: null,
  };
}
