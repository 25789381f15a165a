import { z } from 'zod';
import { id, ofStudy, route } from '../route.ts';
import {
  PortionWish,
  QuestionWish,
  RecordMade,
  SpecimensAnswer,
  SpecimenWish,
  StudyMade,
  StudyWish,
} from '../studies.ts';

export const STUDY_ROUTES = {
  createStudy: route({
    method: 'post',
    path: '/api/studies',
    does: 'Open a study on one question.',
    body: StudyWish,
    answer: StudyMade,
  }),
  question: route({
    method: 'get',
    path: '/api/studies/{study}/question',
    does: 'The question, field by field.',
    params: ofStudy,
    answer: QuestionWish,
  }),
  changeQuestion: route({
    method: 'put',
    path: '/api/studies/{study}/question',
    does: 'Change the question; what it was before stays in the journal.',
    params: ofStudy,
    body: QuestionWish,
    answer: StudyMade,
  }),
  specimens: route({
    method: 'get',
    path: '/api/studies/{study}/specimens',
    does: 'Specimens with their portions.',
    params: ofStudy,
    answer: SpecimensAnswer,
  }),
  addSpecimen: route({
    method: 'post',
    path: '/api/studies/{study}/specimens',
    does: 'Enter a specimen.',
    params: ofStudy,
    body: SpecimenWish,
    answer: RecordMade,
  }),
  addPortion: route({
    method: 'post',
    path: '/api/specimens/{specimen}/portions',
    does: 'Weigh a portion of a specimen: what one run uses.',
    params: z.object({ specimen: id }),
    body: PortionWish,
    answer: RecordMade,
  }),
} as const;
