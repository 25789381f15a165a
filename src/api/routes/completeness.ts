import { CompletenessAnswer } from '../completeness.ts';
import { ofStudy, route } from '../route.ts';

export const COMPLETENESS_ROUTES = {
  completeness: route({
    method: 'get',
    path: '/api/studies/{study}/completeness',
    does: 'How small a piece the study’s own control photographs still show, as last measured, and what is under way.',
    params: ofStudy,
    answer: CompletenessAnswer,
  }),
  measureCompleteness: route({
    method: 'post',
    path: '/api/studies/{study}/completeness',
    does: 'Draw known pieces into photographs of the study’s controls and search for them; the result is kept.',
    params: ofStudy,
    answer: CompletenessAnswer,
  }),
  stopCompleteness: route({
    method: 'post',
    path: '/api/studies/{study}/completeness/stop',
    does: 'Stop drawing into controls; nothing of it is kept.',
    params: ofStudy,
    answer: CompletenessAnswer,
  }),
} as const;
