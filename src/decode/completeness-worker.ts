/** Draws known pieces into control photographs and searches them, off the thread that answers people. */
import { parentPort } from 'node:worker_threads';
import {
  type Completeness,
  classicalFinder,
  completenessSteps,
  type FindWish,
  type Picture,
  USUAL_DESIGN,
} from '../science/imaging/index.ts';
import { type Outcome, refused } from '../units/index.ts';
import { decodePhoto } from './decode-photo.ts';
import { readHead } from './photo-head.ts';
import { WHOLE_PIXELS } from './photo-strips.ts';

export interface CompletenessOrder {
  readonly photos: readonly { readonly path: string; readonly name: string }[];
  readonly wish: FindWish;
}

export type CompletenessWord =
  | { readonly done: number; readonly total: number }
  | { readonly outcome: Outcome<Completeness> }
  | { readonly failed: string };

async function measure({ photos, wish }: CompletenessOrder): Promise<Outcome<Completeness>> {
  const controls: { name: string; open: () => Picture }[] = [];
  for (const { path, name } of photos) {
    const head = await readHead(path, name);
    if (!head.ok) return head;
    if (head.value.width * head.value.height > WHOLE_PIXELS) {
      return refused({
        why: 'too-many-pixels',
        message: `“${name}” is too large to draw known pieces into: give a control of at most ${WHOLE_PIXELS / 1e6} megapixels.`,
      });
    }
    const picture = await decodePhoto(path, name, head.value);
    if (!picture.ok) return picture;
    controls.push({ name, open: () => picture.value });
  }
  const steps = completenessSteps(controls, classicalFinder, wish, USUAL_DESIGN);
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
    tell(step.value);
  }
}

const tell = (word: CompletenessWord): void => parentPort?.postMessage(word);

parentPort?.once('message', async (order: CompletenessOrder) => {
  try {
    tell({ outcome: await measure(order) });
  } catch (error) {
    tell({ failed: error instanceof Error ? error.message : String(error) });
  }
});
