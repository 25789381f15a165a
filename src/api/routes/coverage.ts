import { z } from 'zod';
import { ClosingControlPlanned, ComparisonRulesJson, CoverageAnswer } from '../coverage.ts';
import { id, ofStudy, route } from '../route.ts';

export const COVERAGE_ROUTES = {
  coverage: route({
    method: 'get',
    path: '/api/studies/{study}/coverage',
    does: 'Every specimen run against every control, step by step.',
    params: ofStudy,
    answer: CoverageAnswer,
  }),
  setComparisonRules: route({
    method: 'put',
    path: '/api/studies/{study}/comparison-rules',
    does: 'How far apart two steps may be and still be the same in this study, with the reason; earlier rules stay.',
    params: ofStudy,
    body: ComparisonRulesJson,
    answer: ComparisonRulesJson,
  }),
  planClosingControl: route({
    method: 'post',
    path: '/api/runs/{run}/closing-control',
    does: 'Plan the control that takes a run in again: a procedure like the nearest control’s, done as the run was, and a planned run of it.',
    params: z.object({ run: id }),
    answer: ClosingControlPlanned,
  }),
} as const;
