import {
  type Edition,
  type Json,
  makePlan,
  type PlanAnswers,
  planStudy,
  type Specimen,
  type Study,
} from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { addSpecimen } from './add-specimen.ts';
import { createStudy } from './create-study.ts';
import type { Records, Tools } from './ports.ts';
import { writeProcedure } from './write-procedure.ts';

/** Study, specimen, procedures and planned runs from ten answers: all of them or none. */
export const makePlannedStudy = (
  { records, clock, names }: Pick<Tools, 'records' | 'clock' | 'names'>,
  wish: { readonly name: string; readonly answers: PlanAnswers; readonly by: string },
): Promise<Outcome<Study>> =>
  records.change(async (desk) => {
    const planned = planStudy(wish.answers);
    if (!planned.ok) return planned;
    const { value: plan } = planned;
    if (plan.gate.stops.length > 0) {
      return refused({ why: 'dangerous-pair', message: plan.gate.sentence });
    }
    // The deeds of every day, inside this one change: what one of them refuses undoes all.
    const within: Records = { ...records, look: (work) => work(desk), change: (work) => work(desk) };
    const tools = { records: within, clock, names };
    const { by } = wish;
    const study = await createStudy(tools, {
      name: wish.name.trim() || plan.name,
      question: plan.question,
      by,
    });
    if (!study.ok) return study;
    const specimen: Outcome<Specimen> = await addSpecimen(tools, {
      study: study.value.id,
      name: plan.specimen,
      role: 'product',
      maker: '',
      lot: '',
      age: '',
      material: wish.answers.polymers.join(', '),
      massG: null,
      note: '',
    });
    if (!specimen.ok) return specimen;
    const editions = new Map<string, Edition>();
    for (const { name, steps } of plan.procedures) {
      const written = await writeProcedure(tools, {
        study: study.value.id,
        name,
        steps,
        because: 'As planned.',
        by,
      });
      if (!written.ok) return written;
      editions.set(name, written.value.edition);
    }
    const made = makePlan({
      id: names.next(),
      study: study.value.id,
      answers: JSON.parse(JSON.stringify(wish.answers)) as Json as never,
      runs: plan.runs.map((run, at) => ({
        name: run.name,
        kind: run.kind,
        edition: editions.get(run.procedure)!.id,
        specimen: run.kind === 'specimen' ? specimen.value.id : null,
        session: `sitting ${run.session}`,
        order: at + 1,
        because: run.because,
      })),
      at: clock.now(),
      by,
    });
    if (!made.ok) return made;
    await desk.plans.add(made.value);
    return done(study.value);
  });
