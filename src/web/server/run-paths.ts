/** Method and path of the routes that runs, filters and the bench use; the types hold them to the routes of `api/`. */
export const RUN_PATHS = {
  runChoices: ['get', '/api/studies/{study}/run-choices'],
  addRuns: ['post', '/api/studies/{study}/runs'],
  orderRuns: ['post', '/api/studies/{study}/run-order'],
  withdraw: ['post', '/api/studies/{study}/withdrawals'],
  addFilter: ['post', '/api/runs/{run}/filters'],
  addFraction: ['post', '/api/runs/{run}/fractions'],
  placePhoto: ['post', '/api/photos/{photo}/place'],
  photoPlaces: ['get', '/api/studies/{study}/photo-places'],
  bench: ['get', '/api/studies/{study}/bench'],
  runSheet: ['get', '/api/runs/{run}/sheet'],
  taps: ['post', '/api/bench/taps'],
  addSetupPhoto: ['put', '/api/runs/{run}/setup/photos'],
  setupPicture: ['get', '/api/setup-photos/{picture}/picture'],
  setupOriginal: ['get', '/api/setup-photos/{picture}/original'],
  labels: ['get', '/api/studies/{study}/labels'],
  byCode: ['get', '/api/codes/{code}'],
} as const;
