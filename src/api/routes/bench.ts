import { z } from 'zod';
import {
  BenchAnswer,
  LabelJson,
  LabelsAnswer,
  RunSheetAnswer,
  SetupPhotoJson,
  TapsAnswer,
  TapsWish,
} from '../bench.ts';
import { id, ofStudy, route } from '../route.ts';

const ofRun = z.object({ run: id });
const ofPicture = z.object({ picture: id });

export const BENCH_ROUTES = {
  bench: route({
    method: 'get',
    path: '/api/studies/{study}/bench',
    does: 'How far every run is: state, deviations, coverage, minutes uncovered, balance.',
    params: ofStudy,
    answer: BenchAnswer,
  }),
  runSheet: route({
    method: 'get',
    path: '/api/runs/{run}/sheet',
    does: 'All that a device needs to carry out a run.',
    params: ofRun,
    answer: RunSheetAnswer,
  }),
  taps: route({
    method: 'post',
    path: '/api/bench/taps',
    does: 'Taps of a device in their order; each is done once, however often it is sent.',
    body: TapsWish,
    answer: TapsAnswer,
  }),
  addSetupPhoto: route({
    method: 'put',
    path: '/api/runs/{run}/setup/photos',
    does: 'Attach a picture of the set-up: the body is the file itself.',
    params: ofRun,
    query: z.object({
      name: z.string().min(1).max(1000),
      step: z.string().max(60).optional(),
      note: z.string().max(2000).optional(),
    }),
    body: 'bytes',
    answer: SetupPhotoJson,
  }),
  setupPicture: route({
    method: 'get',
    path: '/api/setup-photos/{picture}/picture',
    does: 'A picture of the set-up, small.',
    params: ofPicture,
    answer: 'image/jpeg',
  }),
  setupOriginal: route({
    method: 'get',
    path: '/api/setup-photos/{picture}/original',
    does: 'The original file of a picture of the set-up, to the byte.',
    params: ofPicture,
    answer: 'application/octet-stream',
  }),
  labels: route({
    method: 'get',
    path: '/api/studies/{study}/labels',
    does: 'Labels of runs, filters, kept remainders, vessels and specimens, each with its short code.',
    params: ofStudy,
    answer: LabelsAnswer,
  }),
  byCode: route({
    method: 'get',
    path: '/api/codes/{code}',
    does: 'What a label’s code stands for.',
    params: z.object({ code: z.string().max(40) }),
    answer: LabelJson,
  }),
} as const;
