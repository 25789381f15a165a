/** The bench tests of the house. Adding one: a folder here, and a line in the list. */
import type { BenchTest } from './bench-test.ts';
import { crossedPolars } from './crossed-polars/index.ts';
import { floatOrSink } from './float-or-sink/index.ts';
import { heatedNeedle } from './heated-needle/index.ts';
import { lipophilicDye } from './lipophilic-dye/index.ts';
import { magnet } from './magnet/index.ts';
import { pressOrScratch } from './press-or-scratch/index.ts';
import { solventSpot } from './solvent-spot/index.ts';
import { spectrum } from './spectrum/index.ts';
import { warmWater } from './warm-water/index.ts';

export * from './bench-test.ts';
export * from './judging.ts';
export { classOfName } from './spectrum/index.ts';

export const BENCH_TESTS: readonly BenchTest[] = [
  pressOrScratch,
  magnet,
  crossedPolars,
  floatOrSink,
  lipophilicDye,
  spectrum,
  warmWater,
  solventSpot,
  heatedNeedle,
];

export const benchTest = (id: string): BenchTest | null => BENCH_TESTS.find((test) => test.id === id) ?? null;
