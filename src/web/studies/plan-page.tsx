import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useDeferredValue, useEffect, useState } from 'react';
import { planStudy } from '../../study/index.ts';
import { go, pathTo } from '../app/where.ts';
import { Field } from '../look/fields.tsx';
import { ask } from '../server/ask.ts';
import { heard, peopleQuery } from '../server/queries.ts';
import { answersJson } from './answers-json.ts';
import { PlanSheet } from './plan-sheet.tsx';
import { answersFrom, firstTyped, TenQuestions } from './ten-questions.tsx';

const STORE = 'retentate/plan-typed/1';

/** What was typed before and not made into a study yet. */
function stored(): ReturnType<typeof firstTyped> {
  const first = firstTyped('');
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(STORE) ?? 'null');
    return typeof kept === 'object' && kept !== null ? { ...first, ...kept } : first;
  } catch {
    return first;
  }
}

/** Ten questions on the left, the plan that they make beside or below, at every key. */
export function PlanPage() {
  const client = useQueryClient();
  const [typed, setTyped] = useState(stored);
  const [name, setName] = useState('');
  const people = useQuery(peopleQuery).data;
  const here = people?.people.find((person) => person.id === people.working)?.name;
  useEffect(() => {
    if (here) setTyped((before) => (before.person === '' ? { ...before, person: here } : before));
  }, [here]);
  useEffect(() => {
    try {
      localStorage.setItem(STORE, JSON.stringify(typed));
    } catch {
      // A browser that refuses its store keeps the answers as long as the page is open.
    }
  }, [typed]);
  const answers = answersFrom(useDeferredValue(typed));
  const planned = typeof answers === 'string' ? null : planStudy(answers);
  const problem = typeof answers === 'string' ? answers : planned?.ok ? null : planned?.refusal.message;
  const make = useMutation({
    mutationFn: () => {
      if (typeof answers === 'string') throw new RangeError(answers);
      return heard(ask('makePlannedStudy', {}, { name, answers: answersJson(answers) }));
    },
    onSuccess: ({ id }) => {
      localStorage.removeItem(STORE);
      void client.invalidateQueries({ queryKey: ['studies'] });
      go(pathTo({ page: 'procedure', study: id, item: null }));
    },
  });
  const plan = planned?.ok ? planned.value : null;
  return (
    <div className="planning">
      <section aria-label="Ten questions">
        <TenQuestions typed={typed} set={setTyped} />
      </section>
      <section className="planned" aria-label="The plan" aria-live="off">
        <h2 className="planned-title">{plan ? `The plan: ${plan.specimen}` : 'The plan'}</h2>
        {plan === null || typeof answers === 'string' ? (
          <p className="reading">
            {problem === 'Product: say what may shed.'
              ? 'Say what may shed, and a plan stands here: procedure, controls, runs, filters, lists, hours and cautions.'
              : problem}
          </p>
        ) : (
          <>
            <PlanSheet
              plan={plan}
              answers={answers}
              change={(changed) => setTyped({ ...typed, changed })}
              answerSafety={(field, text) =>
                setTyped({ ...typed, safety: { ...typed.safety, [field]: text } })
              }
            />
            <form
              className="sheet"
              aria-label="Make this study"
              onSubmit={(event) => {
                event.preventDefault();
                make.mutate();
              }}
            >
              <Field label="Name of the study" value={name} set={setName} placeholder={plan.name} />
              {make.error ? (
                <p className="sheet-problem" role="alert">
                  {make.error.message}
                </p>
              ) : null}
              <p className="sheet-deeds">
                <button
                  type="submit"
                  className="button primary"
                  disabled={make.isPending || plan.gate.stops.length > 0}
                >
                  Make this study
                </button>
              </p>
              {plan.gate.missing.length > 0 ? (
                <p className="fine">
                  It can be made now; it is not ready for the bench before the safety questions are answered.
                </p>
              ) : null}
            </form>
          </>
        )}
      </section>
    </div>
  );
}
