import { useQuery } from '@tanstack/react-query';
import { Fact, Failed, PlaceHead, Section, Waiting } from '../look/parts.tsx';
import { lengthWords } from '../look/words.ts';
import { studyQuery } from '../server/queries.ts';

/** What was asked, fixed before the first count: everything later is judged against these words. */
export function QuestionPlace({ study }: { study: string }) {
  const { data, error, refetch } = useQuery(studyQuery(study));
  if (error && !data) return <Failed error={error} again={() => void refetch()} />;
  if (!data) return <Waiting what="the question" />;
  const { asked } = data;
  return (
    <div className="page">
      <PlaceHead title="Question" lead="Fixed before the first count; every run and the claim answer this." />
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
