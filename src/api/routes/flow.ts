import { FlowJson, FlowWish } from '../flow.ts';
import { route } from '../route.ts';

export const FLOW_ROUTES = {
  flow: route({
    method: 'post',
    path: '/api/flow',
    does: 'Forecast of a filtration from a few timed volumes: law, capacity with its band, plan. Nothing is stored.',
    body: FlowWish,
    answer: FlowJson,
  }),
} as const;
