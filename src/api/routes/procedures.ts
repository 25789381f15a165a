import { z } from 'zod';
import {
  EditionJson,
  EditionWish,
  ProcedureJson,
  ProceduresAnswer,
  ProcedureWish,
  StepKindJson,
  StepKindsAnswer,
} from '../procedures.ts';
import { id, ofStudy, route } from '../route.ts';

export const PROCEDURE_ROUTES = {
  stepKinds: route({
    method: 'get',
    path: '/api/step-kinds',
    does: 'Known kinds of step and the ones that this laboratory declared.',
    answer: StepKindsAnswer,
  }),
  declareStepKind: route({
    method: 'post',
    path: '/api/step-kinds',
    does: 'Declare a kind of step of this laboratory’s own.',
    body: StepKindJson,
    answer: StepKindJson,
  }),
  procedures: route({
    method: 'get',
    path: '/api/studies/{study}/procedures',
    does: 'Procedures of a study with all their editions.',
    params: ofStudy,
    answer: ProceduresAnswer,
  }),
  writeProcedure: route({
    method: 'post',
    path: '/api/studies/{study}/procedures',
    does: 'Write a procedure down: its first edition.',
    params: ofStudy,
    body: ProcedureWish,
    answer: ProcedureJson,
  }),
  reviseProcedure: route({
    method: 'post',
    path: '/api/procedures/{procedure}/editions',
    does: 'The next edition of a procedure, with the reason; runs keep theirs.',
    params: z.object({ procedure: id }),
    body: EditionWish,
    answer: EditionJson,
  }),
} as const;
