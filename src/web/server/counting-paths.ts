/** Method and path of the routes of planning and of the claim in full. */
export const COUNTING_PATHS = {
  claimDetails: ['get', '/api/studies/{study}/claims/{specimen}'],
  published: ['get', '/api/studies/{study}/published'],
  writePublished: ['post', '/api/studies/{study}/published'],
  setPublishedStanding: ['put', '/api/studies/{study}/published/{entry}'],
  planDesign: ['post', '/api/plan'],
} as const;
