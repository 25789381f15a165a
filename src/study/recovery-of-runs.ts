/** Recovery of a study: which spiked runs speak for the runs that are judged, together and by the size of the known pieces. */
import type { CountingInput, RecoveryStratum } from '../science/counting/index.ts';
import type { InputNote, RunForInput } from './counting-input.ts';
import { fewOf } from './few-of.ts';

type Spiked = RunForInput & { recovered: number };
type Counted = Pick<RunForInput, 'nearSpike'>;

const MOST_NAMED = 3;
const named = (runs: readonly RunForInput[]): string => runs.map(({ run }) => run.name).join(', ');

/** Spiked runs that were counted and lose as any of these runs does; all, where no procedure is on record. */
export function spikesFor(runs: readonly RunForInput[], judged: readonly RunForInput[]): readonly Spiked[] {
  const spiked = runs.filter(
    (run): run is Spiked => run.run.kind === 'spiked-run' && run.recovered !== null && run.run.spike !== null,
  );
  const told = judged.flatMap(({ recovery }) => recovery ?? []);
  if (told.length === 0) return spiked;
  const serving = new Set(told.flatMap((one) => one.serving));
  return spiked.filter(({ run }) => serving.has(run.id));
}

/** What recovery leaves to say: not measured, spiked runs that went another way, what raises a doubt. */
export function recoveryNotes(
  runs: readonly RunForInput[],
  judged: readonly RunForInput[],
  serving: readonly Spiked[],
): InputNote[] {
  const notes: InputNote[] = [];
  const aside = runs.filter(
    (run) => run.run.kind === 'spiked-run' && run.recovered !== null && !serving.some((one) => one === run),
  );
  const words = new Set(
    judged.flatMap(({ recovery }) =>
      (recovery?.others ?? [])
        .filter((other) => aside.some(({ run }) => other.runs.includes(run.id)))
        .flatMap((other) => other.words),
    ),
  );
  if (aside.length > 0) {
    notes.push({
      why: 'spike-does-not-match',
      message: `${named(aside)} went another way than the runs, so the losses measured there are not theirs and are left out: put known pieces into one more run done as they are, ${fewOf([...words], MOST_NAMED, 'more differences')}.`,
      place: 'runs',
      run: aside[0]!.run.id,
    });
  }
  const unserved = judged.filter(({ recovery }) => recovery && recovery.serving.length === 0);
  if (serving.length > 0 && unserved.length > 0) {
    notes.push({
      why: 'spike-does-not-match',
      message: `What is lost of ${named(unserved)} was measured on no spiked run that went their way; the losses of the other runs are taken for theirs.`,
      place: 'runs',
      run: unserved[0]!.run.id,
    });
  }
  if (serving.length === 0 && aside.length === 0) {
    notes.push({
      why: 'no-recovery',
      message:
        'How many particles are lost on the way is not measured: add known pieces to three runs and count them.',
      place: 'runs',
      run: null,
    });
  }
  const doubts = [...new Set(judged.flatMap(({ recovery }) => recovery?.doubts ?? []))];
  if (serving.length > 0 && doubts.length > 0) {
    notes.push({
      why: 'spike-in-doubt',
      message: `Whether pieces are lost in ${named(serving)} as in the runs is in doubt: ${fewOf(doubts, MOST_NAMED, 'more', '; ')}.`,
      place: 'runs',
      run: null,
    });
  }
  const never = sizesNeverFound(serving);
  if (never.length > 0) {
    notes.push({
      why: 'size-never-recovered',
      message: `Of the known pieces of about ${never.map((size) => Math.round(size)).join(' and ')} µm none came back: what was shed in that size is not in the number.`,
      place: 'runs',
      run: null,
    });
  }
  return notes;
}

const sizesOf = (spiked: readonly Spiked[]): number[] =>
  [...new Set(spiked.flatMap(({ run }) => run.spike?.sizeUm ?? []))].sort((a, b) => a - b);

const sizesNeverFound = (spiked: readonly Spiked[]): number[] =>
  sizesOf(spiked).filter((size) =>
    spiked.every(({ run, recovered }) => run.spike!.sizeUm !== size || recovered === 0),
  );

/** Sizes from one known piece to the next: each counted piece goes to the nearest in the logarithm of its size. */
export function bordersBetween(sizesUm: readonly number[]): number[] {
  return sizesUm.slice(1).map((size, at) => Math.sqrt(size * sizesUm[at]!));
}

/**
 * Spiked runs grouped by the size of their known pieces, with the counted pieces nearest to each; none where fewer than two
 * sizes were spiked, a spiked run names no size, or one of them gave nothing back.
 */
export function recoveryStrata(
  spiked: readonly Spiked[],
  specimens: readonly Counted[],
  controls: readonly Counted[],
): RecoveryStratum[] {
  const sizes = sizesOf(spiked);
  const fit = ({ run, recovered }: Spiked) => run.spike!.sizeUm !== null && recovered <= run.spike!.added;
  if (sizes.length < 2 || !spiked.every(fit) || sizesNeverFound(spiked).length > 0) return [];
  // pieces were sorted by all sizes that were spiked; where not all of them speak, the sorting does not fit
  const sorted = [...specimens, ...controls].every(
    ({ nearSpike }) => nearSpike && [...nearSpike.keys()].every((size) => sizes.includes(size)),
  );
  if (!sorted) return [];
  const held = (runs: readonly Counted[], size: number): number =>
    runs.reduce((sum, { nearSpike }) => sum + (nearSpike!.get(size) ?? 0), 0);
  return sizes.map((size) => ({
    name: `about ${Math.round(size)} µm`,
    spikes: spiked
      .filter(({ run }) => run.spike!.sizeUm === size)
      .map(({ run, recovered }) => ({ found: recovered, added: run.spike!.added })),
    specimens: held(specimens, size),
    controls: held(controls, size),
  }));
}

/** Recovery as the counting engine takes it: all spiked runs together, one by one, and by size where sizes tell it apart. */
export function recoveryInput(
  spiked: readonly Spiked[],
  specimens: readonly Counted[],
  controls: readonly Counted[],
): Pick<CountingInput, 'recovery' | 'spikes' | 'strata'> {
  if (spiked.length === 0) return { recovery: null };
  const spikes = spiked.map((run) => ({ found: run.recovered, added: run.run.spike!.added }));
  const strata = recoveryStrata(spiked, specimens, controls);
  return {
    recovery: {
      found: spikes.reduce((sum, spike) => sum + spike.found, 0),
      added: spikes.reduce((sum, spike) => sum + spike.added, 0),
    },
    // one by one they tell how recovery scatters; a run with more found than added only counts in the sum
    ...(spikes.every(({ found, added }) => found <= added) ? { spikes } : {}),
    ...(strata.length > 0 ? { strata } : {}),
  };
}
