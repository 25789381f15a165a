import { FalseFindsAnswer, LearningWish } from '../false-finds.ts';
import { ofStudy, route } from '../route.ts';

export const FALSE_FINDS_ROUTES = {
  falseFinds: route({
    method: 'get',
    path: '/api/studies/{study}/false-finds',
    does: 'What false finds each setting gave on the study’s own controls, as last measured, and what is under way.',
    params: ofStudy,
    answer: FalseFindsAnswer,
  }),
  learnFromControls: route({
    method: 'post',
    path: '/api/studies/{study}/false-finds',
    does: 'Search photographs of chosen controls at several settings; the result is kept, the setting is not changed.',
    params: ofStudy,
    body: LearningWish,
    answer: FalseFindsAnswer,
  }),
  stopLearning: route({
    method: 'post',
    path: '/api/studies/{study}/false-finds/stop',
    does: 'Stop searching controls; nothing of it is kept.',
    params: ofStudy,
    answer: FalseFindsAnswer,
  }),
} as const;
