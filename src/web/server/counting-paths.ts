/** Method and path of the routes of planning and of the claim in full. */
export const COUNTING_PATHS = {
  planDesign: ['post', '/api/plan'],
} as const;
