/**
 * Draws the photographs of the example laboratory. Everything is invented (see example-runs.ts).
 *
 *   const photos = await drawExamplePhotographs(folder, 1, (done, all, name) => …);
 *
 * writes NAME.jpg and NAME.truth.json for each filter, and returns the listing that `examplePhotographs()` also gives
 * without drawing. The same seed gives the same files. All cores but none of the caller's own thread are used.
 */
import { mkdir } from 'node:fs/promises';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import { EXAMPLE_FILTERS, type ExampleFilter } from './example-runs.ts';
import { COLUMNS, DISC_RADIUS_UM, PITCH_MM, ROWS } from './recipe.ts';

/** One photograph of the example and where it belongs. */
export interface ExamplePhotograph extends ExampleFilter {
  readonly file: string;
  readonly truthFile: string;
  readonly pitchMm: number;
  /** Printed squares in view, counted from the top left whole one: columns 0 to 3, rows 0 to 2. */
  readonly region: { readonly columns: readonly [0, number]; readonly rows: readonly [0, number] };
  /** Diameter of the disc that liquid passed through; it lies wholly within the region, so all of the filter is examined. */
  readonly filteredDiameterMm: number;
  readonly examined: number;
}

/** What `drawExamplePhotographs` draws, in order; counts are those of the pieces laid down (see the truth beside each photograph). */
export function examplePhotographs(): readonly ExamplePhotograph[] {
  return EXAMPLE_FILTERS.map((filter) => ({
    ...filter,
    file: `${filter.name}.jpg`,
    truthFile: `${filter.name}.truth.json`,
    pitchMm: PITCH_MM,
    region: { columns: [0, COLUMNS - 1], rows: [0, ROWS - 1] },
    filteredDiameterMm: (2 * DISC_RADIUS_UM) / 1000,
    examined: filter.clogged ? 0 : 1,
  }));
}

export type DrawProgress = (done: number, all: number, name: string) => void;

/** Draws all photographs into `folder` (made when missing) and returns their listing. */
export async function drawExamplePhotographs(
  folder: string,
  seed: number,
  progress: DrawProgress = () => {},
): Promise<readonly ExamplePhotograph[]> {
  await mkdir(folder, { recursive: true });
  const photos = examplePhotographs();
  const waiting = photos.map((p) => p.name);
  let done = 0;
  const crew = Array.from({ length: Math.max(1, Math.min(availableParallelism(), 8)) }, async () => {
    const worker = startWorker();
    try {
      for (let name = waiting.shift(); name !== undefined; name = waiting.shift()) {
        await ask(worker, { name, seed, path: join(folder, `${name}.jpg`) });
        progress(++done, photos.length, name);
      }
    } finally {
      await worker.terminate();
    }
  });
  await Promise.all(crew);
  return photos;
}

/** Compiled, the worker is a plain script; in source, the loader for TypeScript is registered inside the worker first. */
function startWorker(): Worker {
  if (!import.meta.url.endsWith('.ts')) return new Worker(new URL('./draw-worker.js', import.meta.url));
  const loader = JSON.stringify(import.meta.resolve('tsx/esm/api'));
  const script = JSON.stringify(new URL('./draw-worker.ts', import.meta.url).href);
  return new Worker(`import(${loader}).then((tsx) => { tsx.register(); return import(${script}); });`, {
    eval: true,
  });
}

/** One question to a worker, one answer; a worker that dies rejects. */
function ask(worker: Worker, order: { name: string; seed: number; path: string }): Promise<void> {
  return new Promise((resolve, reject) => {
    const failed = (error: unknown): void => reject(error);
    worker.once('error', failed);
    worker.once('message', () => {
      worker.off('error', failed);
      resolve();
    });
    worker.postMessage(order);
  });
}
