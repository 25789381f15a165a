/** Method and path of the routes of planning and of the claim in full. */
export const COUNTING_PATHS = {
  claimDetails: ['get', '/api/studies/{study}/claims/{specimen}'],
  planDesign: ['post', '/api/plan'],
} as const;
