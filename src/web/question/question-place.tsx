import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { QuestionWish } from '../../api/index.ts';
import { pathTo } from '../app/where.ts';
import { Fact, Failed, PlaceHead, Section, Waiting } from '../look/parts.tsx';
import { lengthWords } from '../look/words.ts';
import { ask } from '../server/ask.ts';
import { heard, questionQuery, studyQuery } from '../server/queries.ts';
import { QuestionForm } from './question-form.tsx';
import { Specimens } from './specimens.tsx';

/** What was asked, fixed before the first count: everything later is judged against these words. */
export function QuestionPlace({ study }: { study: string }) {
  const { data, error, refetch } = useQuery(studyQuery(study));
  const [changing, setChanging] = useState(false);
  if (error && !data) return <Failed error={error} again={() => void refetch()} />;
  if (!data) return <Waiting what="the question" />;
  const { asked } = data;
  if (changing) return <ChangeQuestion study={study} close={() => setChanging(false)} />;
  return (
    <div className="page">
      <PlaceHead title="Question" lead="Fixed before the first count; every run and the claim answer this.">
        <a className="button" href={pathTo({ page: 'reach', study })}>
          Plan the runs
        </a>
        <button type="button" className="button" onClick={() => setChanging(true)}>
          Change the question
        </button>
      </PlaceHead>
      <blockquote className="claim-sentence">{asked.sentence}</blockquote>
      <dl className="facts">
        <Fact name="Product" value={asked.product || 'not said'} />
        <Fact name="What is done to it" value={asked.act || 'not said'} note={asked.duration} />
        <Fact name="Into" value={asked.liquid || 'not said'} />
        <Fact
          name="Sizes in scope"
          value={`${lengthWords(asked.size_from_um)} ${
            asked.size_to_um !== null && asked.size_to_um > asked.size_from_um
              ? `to ${lengthWords(asked.size_to_um)}`
              : 'and larger'
          }`}
          note="maximum Feret diameter"
        />
        <Fact name="Unit of the answer" value={asked.unit} />
      </dl>
      <div className="two">
        <Section title="What counts as microplastic">
          <p className="reading">{asked.counts_as_microplastic || 'Nobody has said yet.'}</p>
        </Section>
        <Section title="When the answer is yes">
          <p className="reading">{asked.decision_rule || 'Nobody has said yet.'}</p>
        </Section>
      </div>
      <Specimens study={study} />
      <Section title="Why the question is written down first">
        <p className="reading">
          A rule chosen after the counts are known bends towards the wish. Product, act, sizes and the rule
          stand here from the beginning, so that a reader can see that the answer was given to this question
          and to no other.
        </p>
      </Section>
    </div>
  );
}

function ChangeQuestion({ study, close }: { study: string; close: () => void }) {
  const client = useQueryClient();
  const { data, error, refetch } = useQuery(questionQuery(study));
  const change = useMutation({
    mutationFn: (question: QuestionWish) => heard(ask('changeQuestion', { study }, question)),
    onSuccess: () => {
      void client.invalidateQueries({ queryKey: ['study', study] });
      close();
    },
  });
  if (error && !data) return <Failed error={error} again={() => void refetch()} />;
  if (!data) return <Waiting what="the question" />;
  return (
    <div className="page">
      <PlaceHead title="Question" lead="Fixed before the first count; every run and the claim answer this." />
      <QuestionForm
        before={data}
        named={false}
        problem={change.error?.message ?? null}
        busy={change.isPending}
        send={(question) => change.mutate(question)}
        onClose={close}
      />
    </div>
  );
}
