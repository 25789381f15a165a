/** Method and path of the routes that studies, people and procedures use; the types hold them to the routes of `api/`. */
export const STUDY_PATHS = {
  people: ['get', '/api/people'],
  addPerson: ['post', '/api/people'],
  createStudy: ['post', '/api/studies'],
  question: ['get', '/api/studies/{study}/question'],
  changeQuestion: ['put', '/api/studies/{study}/question'],
  specimens: ['get', '/api/studies/{study}/specimens'],
  addSpecimen: ['post', '/api/studies/{study}/specimens'],
  addPortion: ['post', '/api/specimens/{specimen}/portions'],
  stepKinds: ['get', '/api/step-kinds'],
  declareStepKind: ['post', '/api/step-kinds'],
  procedures: ['get', '/api/studies/{study}/procedures'],
  writeProcedure: ['post', '/api/studies/{study}/procedures'],
  reviseProcedure: ['post', '/api/procedures/{procedure}/editions'],
  coverage: ['get', '/api/studies/{study}/coverage'],
  setComparisonRules: ['put', '/api/studies/{study}/comparison-rules'],
} as const;
