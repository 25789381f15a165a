import { type QueryKey, useMutation, useQueryClient } from '@tanstack/react-query';
import type { PieceDetail } from '../../api/index.ts';
import { percent } from '../../report/index.ts';
import { say } from '../app/notices.tsx';
import { Icon } from '../look/icons.tsx';
import { addressOf, ask } from '../server/ask.ts';
import { heard } from '../server/queries.ts';

type Answer = PieceDetail['answers'][number];
type Chance = NonNullable<PieceDetail['chance']>;

const SAYS = {
  for: 'speaks for plastic',
  against: 'speaks against plastic',
  nothing: 'says nothing',
} as const;

/** Between which chances the stated dependence of the tests lies; null where one test speaks alone. */
function boundsOf({ if_independent: apart, if_together: one }: Chance): readonly [number, number] | null {
  return Math.abs(apart - one) < 0.005 ? null : [Math.min(apart, one), Math.max(apart, one)];
}

/** What a test ended with, who said so, and the pictures of it. */
export function AnswerWords({ answer }: { answer: Answer }) {
  return (
    <span className="drawn-answer">
      {answer.outside ?? `“${String(answer.value).replaceAll('-', ' ')}” ${SAYS[answer.plastic]}`}
      <small> {answer.by}</small>
      {answer.pictures.map((id, at) => (
        <a key={id} href={addressOf('testPicture', { picture: id })} target="_blank" rel="noreferrer">
          {' '}
          picture {at + 1}
        </a>
      ))}
    </span>
  );
}

/** How likely the piece is plastic, all its tests together. */
export function ChanceWords({ chance }: { chance: Chance }) {
  const together = boundsOf(chance);
  return (
    <span className="drawn-chance">
      plastic: {percent(chance.value)}{' '}
      <small>
        ({percent(chance.lower)} to {percent(chance.upper)})
        {together ? (
          <>
            ; {percent(together[0])} to {percent(together[1])}, whether its tests err apart or always together
          </>
        ) : null}
      </small>
    </span>
  );
}

/** Takes an answer back; it stays on record. */
export function TakeAnswerBack({
  study,
  answer,
  shownBy,
}: {
  study: string;
  answer: Answer;
  shownBy: QueryKey;
}) {
  const client = useQueryClient();
  const undo = useMutation({
    mutationFn: () => heard(ask('undoEvidence', { study }, { undoes: answer.id })),
    onError: (error) => say(error.message),
    onSettled: () => {
      void client.invalidateQueries({ queryKey: shownBy });
      void client.invalidateQueries({ queryKey: ['study', study] });
    },
  });
  return (
    <button type="button" className="button quiet" disabled={undo.isPending} onClick={() => undo.mutate()}>
      <Icon name="undo" size={18} /> Take it back
    </button>
  );
}
