import { ChecklistAnswer, SafetyJson, SafetyWish } from '../checklist.ts';
import { ofStudy, route } from '../route.ts';

export const CHECKLIST_ROUTES = {
  checklist: route({
    method: 'get',
    path: '/api/studies/{study}/checklist',
    does: 'Reporting and quality items filled by the records, with what is missing and where to enter it.',
    params: ofStudy,
    answer: ChecklistAnswer,
  }),
  answerSafety: route({
    method: 'put',
    path: '/api/studies/{study}/safety',
    does: 'Answer safety questions; what is left out stays as it was, earlier answers stay on record.',
    params: ofStudy,
    body: SafetyWish,
    answer: SafetyJson,
  }),
} as const;
