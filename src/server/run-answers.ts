import type { RUN_ROUTES } from '../api/index.ts';
import { type Answering, answered, part, valid } from './answers.ts';
import type { PhotoQueue } from './photo-queue.ts';
import {
  addFilter,
  addFraction,
  addRuns,
  addWeighing,
  apartDeed,
  choicesView,
  moveDeed,
  movesView,
  orderDeed,
  placeDeed,
  placesView,
  weighingsView,
  withdrawDeed,
} from './run-deeds.ts';
import type { Served } from './served.ts';
import { returningDeed, withdrawnView } from './withdrawn-answers.ts';

/** What the routes of runs, filters and places do. */
export const runAnswers = (
  served: Served,
  queue: PhotoQueue,
): Readonly<Record<keyof typeof RUN_ROUTES, Answering>> => ({
  runChoices: async (c) => answered(c, await choicesView(served, part(c, 'study'))),
  addRuns: async (c) => answered(c, await addRuns(served, part(c, 'study'), valid(c, 'json'))),
  orderRuns: async (c) =>
    answered(c, await orderDeed(served, part(c, 'study'), valid<{ seed: number }>(c, 'json').seed)),
  withdraw: async (c) => answered(c, await withdrawDeed(served, part(c, 'study'), valid(c, 'json'))),
  addFilter: async (c) => answered(c, await addFilter(served, part(c, 'run'), valid(c, 'json'))),
  addFraction: async (c) => answered(c, await addFraction(served, part(c, 'run'), valid(c, 'json'))),
  addWeighing: async (c) => answered(c, await addWeighing(served, part(c, 'run'), valid(c, 'json'))),
  weighings: async (c) => answered(c, await weighingsView(served, part(c, 'study'))),
  withdrawOrPutBack: async (c) =>
    answered(c, await returningDeed(served, queue, part(c, 'study'), valid(c, 'json'))),
  withdrawn: async (c) => answered(c, await withdrawnView(served, part(c, 'study'))),
  placePhoto: async (c) => answered(c, await placeDeed(served, part(c, 'photo'), valid(c, 'json'))),
  movePhoto: async (c) => answered(c, await moveDeed(served, queue, part(c, 'photo'), valid(c, 'json'))),
  photoMoves: async (c) => answered(c, await movesView(served, part(c, 'study'))),
  countApart: async (c) => answered(c, await apartDeed(served, part(c, 'filter'), valid(c, 'json'))),
  photoPlaces: async (c) => answered(c, await placesView(served, part(c, 'study'))),
});
