/** Puts what drills, tests and blinded rounds say into the counts that are judged. */
import { type CountingInput, judge } from '../science/counting/index.ts';
import type { InputNote, Specimen, StudyInput } from '../study/index.ts';
import type { CountedStudy } from './count-runs.ts';

const twoFigures = (n: number): string => String(Number(n.toPrecision(2)));

/** The counts with the drill and the tested part; a range over pieces left undecided goes into the notes. */
export function inputWith(
  plain: StudyInput,
  counted: CountedStudy,
  specimen: Specimen,
  seed: number,
): StudyInput {
  const { drill, confirmation } = counted.evidenceFor(specimen);
  if (plain.input.portions.length === 0) return plain;
  const input: CountingInput = { ...plain.input, drill, ...(confirmation ? { confirmation } : {}) };
  const note = undecidedNote(input, counted, specimen, seed);
  return { ...plain, input, notes: note ? [...plain.notes, note] : plain.notes };
}

/**
 * Pieces on which the scorers did not agree stand as they stood before the round. What the number would be at worst either way: none of the product's
 * and all of the controls', and the other way round.
 */
function undecidedNote(
  input: CountingInput,
  counted: CountedStudy,
  specimen: Specimen,
  seed: number,
): InputNote | null {
  const { undecided } = counted.evidenceFor(specimen);
  if (undecided === null) return null;
  const names = new Map(counted.runs.map((run) => [run.run.name, undecided.byRun.get(run.run.id)]));
  type Named = { readonly name: string };
  const sum = (runs: readonly Named[], of: 'counted' | 'left'): number =>
    runs.reduce((total, run) => total + (names.get(run.name)?.[of] ?? 0), 0);
  const both = [...input.portions, ...input.controls];
  const inCount = sum(both, 'counted');
  const open = inCount + sum(both, 'left');
  if (open === 0) return null;
  const without = <R extends Named & { readonly count: number }>(runs: readonly R[]): readonly R[] =>
    runs.map((run) => ({ ...run, count: Math.max(0, run.count - (names.get(run.name)?.counted ?? 0)) }));
  const with_ = <R extends Named & { readonly count: number }>(runs: readonly R[]): readonly R[] =>
    runs.map((run) => ({ ...run, count: run.count + (names.get(run.name)?.left ?? 0) }));
  const least = judge(
    { ...input, portions: without(input.portions), controls: with_(input.controls) },
    { seed },
  );
  const most = judge(
    { ...input, portions: with_(input.portions), controls: without(input.controls) },
    { seed },
  );
  const range =
    least.ok && most.ok
      ? `by them the amount for “${specimen.name}” moves between ${twoFigures(least.value.netPerGram.value)} and ${twoFigures(most.value.netPerGram.value)} per gram, and the excess ${
          least.value.aboveBackground === most.value.aboveBackground
            ? 'stays what it is'
            : 'stands or falls with them'
        }`
      : 'their part in the amount cannot be told';
  return {
    why: 'pieces-undecided',
    message: `${open} ${open === 1 ? 'piece stays' : 'pieces stay'} undecided after the round “${undecided.round}”, ${inCount} of them in the count: ${range}.`,
    place: 'evidence',
    run: null,
  };
}
