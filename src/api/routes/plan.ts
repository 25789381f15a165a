import { DesignPlanJson, DesignPlanWish } from '../plan.ts';
import { route } from '../route.ts';

export const PLAN_ROUTES = {
  planDesign: route({
    method: 'post',
    path: '/api/plan',
    does: 'What a design can find, and how hours are best spent: on virtual studies. Nothing is stored.',
    body: DesignPlanWish,
    answer: DesignPlanJson,
  }),
} as const;
