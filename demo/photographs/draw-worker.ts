/** Draws one photograph of the example at a time, away from the caller's thread. */
import { parentPort } from 'node:worker_threads';
import { writePhoto } from '../drawing/photo-file.ts';
import { drawPhotograph } from '../drawing/photograph.ts';
import { EXAMPLE_FILTERS } from './example-runs.ts';
import { recipeFor } from './recipe.ts';

parentPort?.on('message', async (order: { name: string; seed: number; path: string }) => {
  const filter = EXAMPLE_FILTERS.find((f) => f.name === order.name);
  if (!filter) throw new RangeError(`filter: a name of the example's filters is needed, given ${order.name}`);
  await writePhoto(order.path, drawPhotograph(recipeFor(filter, order.seed)));
  parentPort?.postMessage('done');
});
