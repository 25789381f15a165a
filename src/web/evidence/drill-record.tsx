import { useMutation, useQueryClient } from '@tanstack/react-query';
import type { EvidenceAnswer, SittingJson } from '../../api/index.ts';
import { Icon } from '../look/icons.tsx';
import { Section } from '../look/parts.tsx';
import { many } from '../look/words.ts';
import { ask } from '../server/ask.ts';
import { heard } from '../server/queries.ts';
import { CALL_WORDS } from './drill-run.tsx';
import { testName } from './drills.tsx';

/** Every drill on record; one that was spoilt is taken back as a whole or piece by piece, and put back as well. */
export function DrillRecord({ study, sittings }: { study: string; sittings: EvidenceAnswer['sittings'] }) {
  if (sittings.length === 0) return null;
  return (
    <Section
      title="Drills on record"
      lead="A drill that was spoilt (the wrong dish, a slip of the finger) can be taken back. It stays on record and no longer counts."
    >
      <ul className="drill-record">
        {sittings.map((sitting) => (
          <Sitting key={sitting.answers[0]!.id} study={study} sitting={sitting} />
        ))}
      </ul>
    </Section>
  );
}

type Answer = SittingJson['answers'][number];
const isRight = ({ plastic, called }: Answer): boolean => called === (plastic ? 'plastic' : 'other');

function Sitting({ study, sitting }: { study: string; sitting: SittingJson }) {
  const client = useQueryClient();
  const undo = useMutation({
    mutationFn: (undoes: string[]) => heard(ask('undoEvidence', { study }, { undoes })),
    onSettled: () => void client.invalidateQueries({ queryKey: ['study', study] }),
  });
  const { answers } = sitting;
  const counting = answers.filter((answer) => !answer.undone);
  const gone = counting.length === 0;
  const deed = (some: readonly Answer[]) => undo.mutate(some.map(({ last }) => last));
  return (
    <li className={gone ? 'is-taken-back' : undefined}>
      <p>
        <strong>
          {sitting.at.slice(0, 10)}, {sitting.by}
        </strong>{' '}
        {testName(sitting.test)}, {sitting.set}
        {sitting.announced ? '' : ', slipped in'}: {standingWords(answers, counting)}
      </p>
      <div className="sheet-deeds">
        <button
          type="button"
          className="button quiet"
          disabled={undo.isPending}
          onClick={() => deed(gone ? answers : counting)}
        >
          <Icon name="undo" size={18} /> {gone ? 'Put it back' : 'Take it back'}
        </button>
      </div>
      <details>
        <summary>Piece by piece</summary>
        <ol className="drill-answers">
          {answers.map((answer) => (
            <li key={answer.id} className={answer.undone ? 'is-taken-back' : undefined}>
              <span>
                <strong>{answer.piece}</strong> {answer.material}:{' '}
                <em>{CALL_WORDS[answer.called].toLowerCase()}</em>
                {isRight(answer) ? '' : ' (not what it is)'}
              </span>
              <button
                type="button"
                className="button quiet"
                disabled={undo.isPending}
                onClick={() => deed([answer])}
              >
                {answer.undone ? 'Put back' : 'Take back'}
              </button>
            </li>
          ))}
        </ol>
      </details>
      {undo.error ? (
        <p role="alert" className="sheet-problem">
          {undo.error.message}
        </p>
      ) : null}
    </li>
  );
}

function standingWords(answers: readonly Answer[], counting: readonly Answer[]): string {
  if (counting.length === 0) return `${many(answers.length, 'piece')}, taken back`;
  const wrong = counting.filter((answer) => !isRight(answer)).length;
  const back = answers.length - counting.length;
  return `${many(counting.length, 'piece')}, ${wrong === 0 ? 'all called what they are' : `${wrong} not called what they are`}${
    back > 0 ? `; ${back} taken back` : ''
  }`;
}
