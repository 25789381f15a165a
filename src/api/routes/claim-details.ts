import { z } from 'zod';
import { ClaimDetailsJson } from '../claim-details.ts';
import { id, ofStudy, route } from '../route.ts';

export const CLAIM_DETAIL_ROUTES = {
  claimDetails: route({
    method: 'get',
    path: '/api/studies/{study}/claim-details',
    does: 'What lies behind a claim: categories, sizes, what was looked at, mass, other ways to judge, comparisons.',
    params: ofStudy,
    query: z.object({ specimen: id.optional() }),
    answer: ClaimDetailsJson,
  }),
} as const;
