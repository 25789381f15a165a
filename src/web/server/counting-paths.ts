/** Method and path of the routes of planning and of the claim in full. */
export const COUNTING_PATHS = {
  claimDetails: ['get', '/api/studies/{study}/claim-details'],
  planDesign: ['post', '/api/plan'],
} as const;
