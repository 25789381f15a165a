import type { Errors, Layout, Truth } from '../src/science/counting/planning/virtual-study.ts';

/** One line of the table: a truth, a layout, and how many studies are drawn of it. */
export interface Cell {
  readonly block: string;
  readonly truth: Truth;
  readonly layout: Layout;
  readonly errors?: Errors;
  readonly seed: number;
  readonly studies: number;
}

export const SEED = 20261125;

const BLOCKS = {
  grid: 'Background × release × scatter × runs',
  side: 'Scatter on one side only',
  runs: 'Other numbers of runs',
  fraction: 'Fraction looked at',
  recovery: 'Recovery from three spiked runs of 40 pieces',
  errors: 'Natural specks and an imperfect test',
  mass: 'Portions of unequal mass',
  history: 'With five earlier batches of controls',
  three: 'Three runs on one side',
} as const;

const plain: Layout = {
  specimens: 6,
  controls: 6,
  massG: 1,
  specimenFraction: 1,
  controlFraction: 1,
  spikes: 0,
  addedPerSpike: 40,
};

const truthOf = (
  background: number,
  releasePerGram: number,
  scatter: number,
  releaseScatter = scatter,
): Truth => ({
  background,
  releasePerGram,
  backgroundScatter: scatter,
  releaseScatter,
  recovery: 1,
  recoverySd: 0,
});

/** Scatter as the negative binomial shape of the trade: none (∞), 5, 2, 1. */
const SCATTERS = [0, 0.2, 0.5, 1];

/** The whole grid, or a small one that says the same in a minute. */
export function calibrationCells(small: boolean, factor = 1): Cell[] {
  const cells: Omit<Cell, 'seed'>[] = [];
  const add = (
    block: keyof typeof BLOCKS,
    truth: Truth,
    layout: Partial<Layout> = {},
    errors?: Errors,
  ): void => {
    const studies = Math.round((truth.releasePerGram === 0 ? 1000 : 600) * factor);
    cells.push({
      block: BLOCKS[block],
      truth,
      layout: { ...plain, ...layout },
      studies,
      ...(errors ? { errors } : {}),
    });
  };
  const backgrounds = small ? [1, 20] : [0.2, 1, 5, 20, 50];
  const releases = small ? [0, 10] : [0, 1, 10, 100];
  const scatters = small ? [0, 1] : SCATTERS;
  for (const [specimens, controls] of small
    ? [
        [4, 4],
        [6, 6],
      ]
    : [
        [4, 4],
        [6, 6],
        [12, 10],
      ]) {
    for (const b of backgrounds) {
      for (const r of releases)
        for (const s of scatters) add('grid', truthOf(b, r, s), { specimens, controls });
    }
  }
  for (const [specimens, controls] of small
    ? [[6, 6]]
    : [
        [4, 4],
        [6, 6],
        [4, 10],
      ]) {
    for (const [b, r] of small
      ? [[50, 100]]
      : [
          [5, 10],
          [50, 10],
          [50, 100],
        ]) {
      add('side', truthOf(b!, r!, 1, 0), { specimens, controls });
      add('side', truthOf(b!, r!, 0, 1), { specimens, controls });
    }
  }
  for (const [specimens, controls] of small
    ? [[3, 4]]
    : [
        [3, 3],
        [3, 10],
        [12, 1],
        [12, 3],
        [4, 10],
        [12, 4],
        [5, 4],
        [8, 6],
      ]) {
    for (const b of small ? [5] : [0.2, 5]) {
      for (const r of small ? [0] : [0, 10])
        for (const s of small ? [1] : [0, 1]) add('runs', truthOf(b, r, s), { specimens, controls });
    }
  }
  for (const [specimenFraction, controlFraction] of small
    ? [[0.25, 1]]
    : [
        [0.05, 0.05],
        [0.25, 0.25],
        [0.25, 1],
        [1, 0.25],
        [0.8, 1],
      ]) {
    for (const b of small ? [5] : [1, 5, 50]) {
      for (const r of releases.filter((x) => x !== 1)) {
        for (const s of small ? [1] : [0, 0.5])
          add('fraction', truthOf(b, r, s), { specimenFraction, controlFraction });
      }
    }
  }
  for (const recovery of small ? [0.6] : [0.4, 0.6, 0.8, 1]) {
    for (const recoverySd of recovery === 1 ? [0] : small ? [0.08] : [0, 0.08]) {
      for (const b of small ? [5] : [1, 5]) {
        for (const r of [0, 10, 100]) {
          for (const s of small ? [0.2] : [0, 0.2])
            add('recovery', { ...truthOf(b, r, s), recovery, recoverySd }, { spikes: 3 });
        }
      }
    }
  }
  for (const [specksSpecimen, specksControl] of small
    ? [[10, 2]]
    : [
        [10, 10],
        [10, 2],
      ]) {
    for (const [sensitivity, falseRate] of small
      ? [[0.9, 0.05]]
      : [
          [0.9, 0.05],
          [0.8, 0.2],
        ]) {
      for (const r of [0, 10]) {
        for (const s of small ? [0.2] : [0, 0.2]) {
          const errors = {
            specksSpecimen: specksSpecimen!,
            specksControl: specksControl!,
            sensitivity: sensitivity!,
            falseRate: falseRate!,
            drillTrue: 30,
            drillOther: 30,
            tested: 40,
          };
          add('errors', truthOf(5, r, s), {}, errors);
        }
      }
    }
  }
  if (!small) {
    for (const r of [10, 100]) for (const s of [0, 0.5]) add('mass', truthOf(5, r, s), { massSpread: 0.5 });
    for (const b of [1, 5, 20]) {
      for (const r of [0, 10])
        for (const s of [0, 0.5, 1])
          add('history', truthOf(b, r, s), { specimens: 4, controls: 4, earlierBatches: 5 });
    }
  }
  // last, so that the seeds of the cells before stay as they are
  for (const [specimens, controls] of small
    ? [[3, 5]]
    : [
        [3, 5],
        [6, 3],
      ]) {
    for (const b of small ? [5] : [0.2, 5, 50]) {
      for (const r of small ? [0] : [0, 10, 100])
        for (const s of small ? [1] : [0.5, 1]) add('three', truthOf(b, r, s), { specimens, controls });
    }
  }
  return cells.map((cell, i) => ({ ...cell, seed: SEED + i }));
}

/** A half of the whole grid that keeps its corners: for an evening when the whole hour is not there. */
export function thinned(cells: readonly Cell[]): Cell[] {
  return cells.filter(({ block, truth, layout }, i) => {
    if (truth.releasePerGram === 1) return false;
    if (block === BLOCKS.grid) return [0.2, 5, 50].includes(truth.background);
    return Math.min(layout.specimens, layout.controls) < 4 || i % 2 === 0;
  });
}
