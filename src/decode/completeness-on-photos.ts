import type { PhotoWork } from '../actions/index.ts';
import { done, refused } from '../units/index.ts';
import type { CompletenessWord } from './completeness-worker.ts';
import { startWorker } from './start-worker.ts';

/** Controls held in memory at once; more would tell little more and cost much. */
export const MOST_CONTROLS = 8;

/** Known pieces drawn into control photographs and searched for, in a thread of its own. */
export const completenessOnPhotos: PhotoWork['completeness'] = (photos, wish, told, stopped) =>
  new Promise((answer, fail) => {
    const worker = startWorker('completeness-worker');
    const end = (then: () => void): void => {
      worker.removeAllListeners();
      void worker.terminate();
      then();
    };
    void stopped?.then(() =>
      end(() => answer(refused({ why: 'stopped', message: 'Stopped before the end; start it again.' }))),
    );
    worker.on('message', (word: CompletenessWord) => {
      if ('done' in word) told(word.done, word.total);
      else if ('failed' in word) end(() => fail(new Error(word.failed)));
      else end(() => answer(word.outcome.ok ? done(word.outcome.value) : word.outcome));
    });
    worker.on('error', (error) => end(() => fail(error)));
    worker.on('exit', (code) =>
      end(() => fail(new Error(`drawing into controls ended with status ${code}`))),
    );
    worker.postMessage({ photos: photos.slice(0, MOST_CONTROLS), wish });
  });
