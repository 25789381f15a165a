import { recordTap } from '../actions/index.ts';
import type { BENCH_ROUTES, TapsAnswer, TapsWish } from '../api/index.ts';
import { done, type Outcome } from '../units/index.ts';
import { type Answering, answered, part, valid } from './answers.ts';
import { benchView, sheetView } from './bench-views.ts';
import { codeView, labelsView } from './labels.ts';
import type { Served } from './served.ts';
import { addSetupPhoto, setupOriginal, setupPicture } from './setup-pictures.ts';

/** What the routes of the bench do. */
export const benchAnswers = (served: Served): Readonly<Record<keyof typeof BENCH_ROUTES, Answering>> => ({
  bench: async (c) => answered(c, await benchView(served, part(c, 'study'))),
  runSheet: async (c) => answered(c, await sheetView(served, part(c, 'run'))),
  taps: async (c) => answered(c, await takeTaps(served, valid(c, 'json'))),
  addSetupPhoto: async (c) => answered(c, await addSetupPhoto(served, c)),
  setupPicture: (c) => setupPicture(served, c),
  setupOriginal: (c) => setupOriginal(served, c),
  labels: async (c) => answered(c, await labelsView(served, part(c, 'study'))),
  byCode: async (c) => answered(c, await codeView(served, part(c, 'code'))),
});

/** One after the other; each is on the disk before it is acknowledged. */
async function takeTaps(served: Served, { taps }: TapsWish): Promise<Outcome<TapsAnswer>> {
  const answers: TapsAnswer['taps'] = [];
  for (const wish of taps) {
    const kept = await recordTap(served, { ...wish, by: served.person });
    if (!kept.ok) {
      const { why, message } = kept.refusal;
      answers.push({ id: wish.id, state: 'not-kept', refusal: { why, message } });
      continue;
    }
    const { refusal } = kept.value.tap;
    answers.push({
      id: wish.id,
      state: kept.value.known ? 'known' : refusal === null ? 'done' : 'without-effect',
      refusal: refusal && { why: refusal.why, message: refusal.message },
    });
  }
  return done({ taps: answers });
}
