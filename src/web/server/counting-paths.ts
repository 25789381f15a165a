/** Method and path of the routes of planning and of the claim in full. */
export const COUNTING_PATHS = {
  plan: ['post', '/api/plan'],
} as const;
