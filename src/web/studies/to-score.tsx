import type { StudiesAnswer } from '../../api/index.ts';
import { pathTo } from '../app/where.ts';
import { Nothing, PlaceHead, Section } from '../look/parts.tsx';

type Study = StudiesAnswer['to_score'][number];
type Round = Study['rounds'][number];

/** What whoever scores alone sees: their rounds, those that wait before those that are done. */
export function ToScore({ studies }: { studies: readonly Study[] }) {
  const rounds = studies.flatMap((study) => study.rounds.map((round) => ({ study, round })));
  const waiting = rounds.filter(({ round }) => !round.locked);
  const locked = rounds.filter(({ round }) => round.locked);
  const without = studies.filter((study) => study.rounds.length === 0).map(({ name }) => name);
  return (
    <div className="page">
      <PlaceHead
        title="To score"
        lead="Rounds that wait for your reading. What a study shows stays hidden from you, so that the reading is yours alone."
      />
      {waiting.length > 0 ? (
        <Rounds rounds={waiting} />
      ) : (
        <Nothing icon="question" title={locked.length > 0 ? 'Nothing waits for you' : 'No round for you yet'}>
          <p>A round appears here as soon as somebody of the laboratory seals one with you as its scorer.</p>
        </Nothing>
      )}
      {locked.length === 0 ? null : (
        <Section title="Read and locked">
          <Rounds rounds={locked} />
        </Section>
      )}
      {without.length === 0 ? null : (
        <p className="to-score-without">No round for you in: {without.join(', ')}.</p>
      )}
    </div>
  );
}

const Rounds = ({ rounds }: { rounds: readonly { readonly study: Study; readonly round: Round }[] }) => (
  <ul className="studies">
    {rounds.map(({ study, round }) => (
      <li key={round.id}>
        <a href={pathTo({ page: 'evidence', study: study.id, item: `score-${round.id}` })}>
          <span className="study-name">{round.name}</span>
          <span className="study-facts">
            {study.name} · {stateWords(round)}
            {study.demonstration ? ' · invented example' : ''}
          </span>
          {round.locked || round.of === 0 ? null : (
            <progress
              max={round.of}
              value={round.done}
              aria-label={`${round.name}: ${round.done} of ${round.of} read`}
            />
          )}
        </a>
      </li>
    ))}
  </ul>
);

/** A third scorer has nothing to read before the two have locked. */
function stateWords({ locked, done, of }: Round): string {
  if (locked) return 'your readings are locked';
  if (of === 0) return 'not yet needed';
  return done === of ? `all ${of} read, not locked yet` : `${done} of ${of} read`;
}
