import { answerSafety, checkStudy, stepsInForceOf } from '../actions/index.ts';
import type { CHECKLIST_ROUTES, ChecklistAnswer, SafetyJson, SafetyWish } from '../api/index.ts';
import { SAFETY_QUESTIONS, type SafetyAnswers, type Step, type StudyId, safetyGate } from '../study/index.ts';
import { done, type Outcome } from '../units/index.ts';
import { answered, type Deed, part, valid } from './answering.ts';
import type { Served } from './served.ts';

export async function checklistView(served: Served, study: string): Promise<Outcome<ChecklistAnswer>> {
  const checked = await checkStudy(served, { study });
  if (!checked.ok) return checked;
  const { checklist, scores } = checked.value;
  return done({
    items: checklist.items.map(({ id, asks, state, severity, says, place, anchor }) => ({
      id,
      asks,
      state,
      severity,
      says,
      place,
      anchor,
    })),
    missing: { ...checklist.missing },
    scores: scores.map(({ name, total, most, anyNought, criteria }) => ({
      name,
      total,
      most,
      any_nought: anyNought,
      criteria: criteria.map((one) => ({ ...one })),
    })),
  });
}

/** The gate before work that can hurt: what is asked, what is answered, what must not go on. */
export function safetyJson(steps: readonly Step[], answers: SafetyAnswers): SafetyJson {
  const gate = safetyGate(steps, answers);
  return {
    ready: gate.ready,
    sentence: gate.sentence,
    stops: gate.stops.map(({ message }) => message),
    questions: gate.asked.map((field) => ({
      field: field === 'dataSheets' ? 'data_sheets' : field,
      asks: SAFETY_QUESTIONS[field],
      answer: answers[field] ?? '',
    })),
  };
}

export const checklistDeeds = (served: Served): Readonly<Record<keyof typeof CHECKLIST_ROUTES, Deed>> => ({
  checklist: async (c) => answered(c, await checklistView(served, part(c, 'study'))),
  answerSafety: async (c) => {
    const { data_sheets, ...wish } = valid<SafetyWish>(c, 'json');
    const study = part(c, 'study');
    const answers = { ...wish, ...(data_sheets === undefined ? {} : { dataSheets: data_sheets }) };
    const made = await answerSafety(served, { study, answers: answers as SafetyAnswers, by: served.person });
    if (!made.ok) return answered(c, made);
    const steps = await served.records.look((look) => stepsInForceOf(look, study as StudyId));
    const { safety } = made.value.answers as { readonly safety?: SafetyAnswers };
    return c.json(safetyJson(steps, safety ?? {}));
  },
});
