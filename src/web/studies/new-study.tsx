import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type ComponentType, lazy, Suspense, useState } from 'react';
import type { StudyWish } from '../../api/index.ts';
import { go, pathTo } from '../app/where.ts';
import { PlaceHead, Waiting } from '../look/parts.tsx';
import { QuestionForm } from '../question/question-form.tsx';
import { ask } from '../server/ask.ts';
import { heard } from '../server/queries.ts';

/** The plan brings tables of reagents and controls with it: it comes when somebody plans. */
const PlanPage: ComponentType = lazy(async () => ({
  default: (await import('./plan-page.tsx')).PlanPage,
}));

/** A study begins with ten questions and a plan, or with the bare question for people who have theirs. */
export function NewStudy() {
  const [bare, setBare] = useState(false);
  return (
    <div className={bare ? 'page' : 'page wide'}>
      <PlaceHead
        title="New study"
        lead={
          bare
            ? 'Write the question down before the first count.'
            : 'Ten questions, and a plan with controls, lists and limits. Everything can be changed, now and later.'
        }
      >
        <button type="button" className="button" onClick={() => setBare(!bare)}>
          {bare ? 'Ten questions to a plan' : 'Only the question'}
        </button>
      </PlaceHead>
      {bare ? (
        <BareQuestion />
      ) : (
        <Suspense fallback={<Waiting what="the questions" />}>
          <PlanPage />
        </Suspense>
      )}
    </div>
  );
}

function BareQuestion() {
  const client = useQueryClient();
  const begin = useMutation({
    mutationFn: (wish: StudyWish) => heard(ask('createStudy', {}, wish)),
    onSuccess: ({ id }) => {
      void client.invalidateQueries({ queryKey: ['studies'] });
      go(pathTo({ page: 'question', study: id, item: null }));
    },
  });
  return (
    <QuestionForm
      before={null}
      named
      problem={begin.error?.message ?? null}
      busy={begin.isPending}
      send={(question, name) => begin.mutate({ name, question })}
      onClose={() => go('/')}
    />
  );
}
