import { z } from 'zod';
import { ApartWish } from '../photos.ts';
import { id, ofStudy, route } from '../route.ts';
import {
  FilterWish,
  FractionWish,
  MovesAnswer,
  MoveWish,
  OrderWish,
  PlacesAnswer,
  PlaceWish,
  RunChoices,
  RunsMade,
  RunsWish,
  WeighingsAnswer,
  WeighingWish,
  WithdrawWish,
} from '../run-records.ts';
import { RecordMade } from '../studies.ts';

const ofRun = z.object({ run: id });

export const RUN_ROUTES = {
  runChoices: route({
    method: 'get',
    path: '/api/studies/{study}/run-choices',
    does: 'Editions, portions, people and sessions to choose from when a run is entered.',
    params: ofStudy,
    answer: RunChoices,
  }),
  addRuns: route({
    method: 'post',
    path: '/api/studies/{study}/runs',
    does: 'Enter runs and controls, all or none.',
    params: ofStudy,
    body: RunsWish,
    answer: RunsMade,
  }),
  orderRuns: route({
    method: 'post',
    path: '/api/studies/{study}/run-order',
    does: 'Draw an interleaved random order for the runs that are not begun; the seed is kept.',
    params: ofStudy,
    body: OrderWish,
    answer: RunsMade,
  }),
  withdraw: route({
    method: 'post',
    path: '/api/studies/{study}/withdrawals',
    does: 'Take back a deviation, a fraction or a filter; it stays on record with who and why.',
    params: ofStudy,
    body: WithdrawWish,
    answer: RecordMade,
  }),
  addFilter: route({
    method: 'post',
    path: '/api/runs/{run}/filters',
    does: 'Lay a filter for a run.',
    params: ofRun,
    body: FilterWish,
    answer: RecordMade,
  }),
  addFraction: route({
    method: 'post',
    path: '/api/runs/{run}/fractions',
    does: 'Say where a part of the liquid went.',
    params: ofRun,
    body: FractionWish,
    answer: RecordMade,
  }),
  addWeighing: route({
    method: 'post',
    path: '/api/runs/{run}/weighings',
    does: 'Say what the product of a specimen run weighed before and after, or take that back.',
    params: ofRun,
    body: WeighingWish,
    answer: RecordMade,
  }),
  weighings: route({
    method: 'get',
    path: '/api/studies/{study}/weighings',
    does: 'What products weighed before and after their runs.',
    params: ofStudy,
    answer: WeighingsAnswer,
  }),
  placePhoto: route({
    method: 'post',
    path: '/api/photos/{photo}/place',
    does: 'Say which square of the disc a photo shows, or that it shows the whole disc.',
    params: z.object({ photo: id }),
    body: PlaceWish,
    answer: RecordMade,
  }),
  movePhoto: route({
    method: 'post',
    path: '/api/photos/{photo}/move',
    does: 'Lay a photo on another filter of its study, or set it aside.',
    params: z.object({ photo: id }),
    body: MoveWish,
    answer: RecordMade,
  }),
  photoMoves: route({
    method: 'get',
    path: '/api/studies/{study}/photo-moves',
    does: 'Which photos of a study were moved or set aside, and why.',
    params: ofStudy,
    answer: MovesAnswer,
  }),
  countApart: route({
    method: 'post',
    path: '/api/filters/{filter}/together',
    does: 'Say that each photo of a filter counts for itself, or that what two of them show counts once again.',
    params: z.object({ filter: id }),
    body: ApartWish,
    answer: RecordMade,
  }),
  photoPlaces: route({
    method: 'get',
    path: '/api/studies/{study}/photo-places',
    does: 'Which squares the photos of a study show, where somebody has said.',
    params: ofStudy,
    answer: PlacesAnswer,
  }),
} as const;
