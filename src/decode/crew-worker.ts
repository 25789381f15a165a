/** One member of the crew: takes an order, searches the photograph, answers, takes the next. */
import { parentPort } from 'node:worker_threads';
import sharp from 'sharp';
import { packed } from './answer-parcel.ts';
import { type SearchOrder, searchPhoto } from './search-photo.ts';

// Each member fills one core; libvips' own threads and cache would only get in each other's way.
sharp.concurrency(1);
sharp.cache(false);

parentPort?.on('message', async (order: SearchOrder) => {
  try {
    const outcome = await searchPhoto(order, (share) => parentPort?.postMessage({ share }));
    if (!outcome.ok) parentPort?.postMessage({ outcome });
    else {
      const parcel = packed(outcome.value);
      parentPort?.postMessage({ parcel }, [parcel.points.buffer]);
    }
  } catch (error) {
    // A machine failure (disk full, memory) or a fault of ours: told, so that one photograph is lost and not the crew.
    parentPort?.postMessage({ failed: error instanceof Error ? error.message : String(error) });
  }
});
