import { type Json, makePlan, type Plan, SAFETY_FIELDS, type SafetyAnswers } from '../study/index.ts';
import type { Outcome } from '../units/index.ts';
import { asId, known } from './known.ts';
import type { Tools } from './ports.ts';

/** Answers to the safety questions, added to the plan of a study; earlier plans stay on record. */
export const answerSafety = (
  { records, clock, names }: Pick<Tools, 'records' | 'clock' | 'names'>,
  wish: { readonly study: string; readonly answers: SafetyAnswers; readonly by: string },
): Promise<Outcome<Plan>> =>
  records.change(async (desk) => {
    const study = await known(desk.studies.get(asId(wish.study)), 'study', wish.study);
    if (!study.ok) return study;
    const person = await known(desk.people.get(asId(wish.by)), 'person', wish.by);
    if (!person.ok) return person;
    const before = await desk.plans.newest(study.value.id);
    const answers = (before?.answers ?? {}) as { readonly [name: string]: Json };
    const safety: Record<string, string> = { ...((answers.safety ?? {}) as Record<string, string>) };
    for (const field of SAFETY_FIELDS) {
      const said = wish.answers[field];
      if (typeof said === 'string') safety[field] = said.trim();
    }
    const made = makePlan({
      id: names.next(),
      study: wish.study,
      answers: { ...answers, safety } as never,
      runs: before?.runs ?? [],
      at: clock.now(),
      by: wish.by,
    });
    if (made.ok) await desk.plans.add(made.value);
    return made;
  });
