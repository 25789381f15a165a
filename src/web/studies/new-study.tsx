import { useMutation, useQueryClient } from '@tanstack/react-query';
import type { StudyWish } from '../../api/index.ts';
import { go, pathTo } from '../app/where.ts';
import { PlaceHead } from '../look/parts.tsx';
import { QuestionForm } from '../question/question-form.tsx';
import { ask } from '../server/ask.ts';
import { heard } from '../server/queries.ts';

/** A study begins with its question. */
export function NewStudy() {
  const client = useQueryClient();
  const begin = useMutation({
    mutationFn: (wish: StudyWish) => heard(ask('createStudy', {}, wish)),
    onSuccess: ({ id }) => {
      void client.invalidateQueries({ queryKey: ['studies'] });
      go(pathTo({ page: 'question', study: id, item: null }));
    },
  });
  return (
    <div className="page">
      <PlaceHead title="New study" lead="Write the question down before the first count." />
      <QuestionForm
        before={null}
        named
        problem={begin.error?.message ?? null}
        busy={begin.isPending}
        send={(question, name) => begin.mutate({ name, question })}
        onClose={() => go('/')}
      />
    </div>
  );
}
