import { ClaimDetailsJson } from '../claim-details.ts';
import { id, ofStudy, route } from '../route.ts';

export const CLAIM_DETAIL_ROUTES = {
  claimDetails: route({
    method: 'get',
    path: '/api/studies/{study}/claims/{specimen}',
    does: 'What lies behind the claim on a specimen: categories, sizes, what was looked at, mass, other ways to judge, comparisons.',
    params: ofStudy.extend({ specimen: id }),
    answer: ClaimDetailsJson,
  }),
} as const;
