import { PlanAnswersJson, PlanLimitsAnswer, PlannedStudyWish, StudyPlanJson } from '../plan-study.ts';
import { ofStudy, route } from '../route.ts';
import { StudyMade } from '../studies.ts';

export const PLAN_STUDY_ROUTES = {
  planLimits: route({
    method: 'post',
    path: '/api/plan-limits',
    does: 'What a design from these answers may hope to find, on virtual studies; nothing is stored.',
    body: PlanAnswersJson,
    answer: PlanLimitsAnswer,
  }),
  makePlannedStudy: route({
    method: 'post',
    path: '/api/planned-studies',
    does: 'Make the study, its specimen, its procedures and its planned runs from the answers, all or nothing.',
    body: PlannedStudyWish,
    answer: StudyMade,
  }),
  plan: route({
    method: 'get',
    path: '/api/studies/{study}/plan',
    does: 'What is planned and done: runs, which causes the controls tell apart, cautions.',
    params: ofStudy,
    answer: StudyPlanJson,
  }),
} as const;
