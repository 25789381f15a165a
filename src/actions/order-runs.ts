import { interleaved, makeRunOrder, RUN_ORDER_METHOD, type Run } from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { asId, known } from './known.ts';
import type { Tools } from './ports.ts';

/**
 * Draws the order of the runs that nobody has begun; those begun keep their places before them. The seed is recorded, so
 * that anybody can draw the same order again.
 */
export const orderRuns = (
  { records, clock, names }: Pick<Tools, 'records' | 'clock' | 'names'>,
  wish: { readonly study: string; readonly seed: number; readonly by: string },
): Promise<Outcome<readonly Run[]>> =>
  records.change(async (desk) => {
    const study = await known(desk.studies.get(asId(wish.study)), 'study', wish.study);
    if (!study.ok) return study;
    const runs = await desk.runs.ofStudy(study.value.id);
    const taps = await desk.taps.ofStudy(study.value.id);
    const filters = await desk.filters.ofStudy(study.value.id);
    const begun = new Set([...taps.map((tap) => tap.run), ...filters.map((filter) => filter.run)]);
    // By their ids, so that what was drawn before does not change what the seed gives.
    const waiting = runs.filter((run) => !begun.has(run.id)).sort((a, b) => (a.id < b.id ? -1 : 1));
    if (waiting.length < 2) {
      return refused({
        why: 'nothing-to-order',
        message: 'Fewer than two runs are still to be begun: there is no order to draw.',
      });
    }
    if (!Number.isSafeInteger(wish.seed)) {
      return refused({ why: 'out-of-range', message: `seed: a whole number is needed; given ${wish.seed}.` });
    }
    const drawn = interleaved(waiting, (run) => run.kind, wish.seed);
    const order = [...runs.filter((run) => begun.has(run.id)), ...drawn];
    const made = makeRunOrder({
      id: names.next(),
      study: study.value.id,
      seed: wish.seed,
      method: RUN_ORDER_METHOD,
      runs: order.map((run) => run.id),
      at: clock.now(),
      by: wish.by,
    });
    if (!made.ok) return made;
    await desk.runOrders.add(made.value);
    await desk.runs.putInOrder(made.value.runs);
    return done(order.map((run, at) => ({ ...run, order: at + 1 })));
  });
