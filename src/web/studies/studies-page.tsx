import { useQuery } from '@tanstack/react-query';
import { useEffect } from 'react';
import { go, pathTo } from '../app/where.ts';
import { Failed, Nothing, PlaceHead, Waiting } from '../look/parts.tsx';
import { many, STATE_WORDS, unbroken } from '../look/words.ts';
import { laboratoryQuery, studiesQuery, useScoresAlone } from '../server/queries.ts';
import { BringStudyIn } from './bring-in.tsx';
import { ToScore } from './to-score.tsx';

/** Whether the program was opened at its list and nobody has looked at it yet. */
let first = location.pathname === '/';

/** All studies of the laboratory; a laboratory with a single study opens on where that one stands. */
export function StudiesPage() {
  const laboratory = useQuery(laboratoryQuery).data;
  const scoresAlone = useScoresAlone();
  const { data, error, refetch } = useQuery(studiesQuery);
  const only = data?.studies.length === 1 ? data.studies[0] : undefined;
  useEffect(() => {
    // Once: whoever comes back here wants to see the list, or begin another study.
    if (only && first) go(pathTo({ page: 'stands', study: only.id }), { replace: true });
    if (data) first = false;
  }, [only, data]);
  if (error) return <Failed error={error} again={() => void refetch()} />;
  if (!data) return <Waiting what="the studies" />;
  if (scoresAlone) return <ToScore studies={data.to_score} />;
  return (
    <div className="page">
      <PlaceHead
        title={laboratory?.name ?? 'Studies'}
        lead="Each study asks one question and holds all that was done to answer it."
      >
        <a className="button primary" href={pathTo({ page: 'new-study' })}>
          New study
        </a>
      </PlaceHead>
      {data.studies.length === 0 ? (
        <Nothing icon="question" title="No study yet">
          <p>
            A study begins with a question: which product, what is done to it, for how long, in which liquid,
            and from which size a piece counts.
          </p>
          <p>
            <a className="button primary" href={pathTo({ page: 'new-study' })}>
              Begin a study
            </a>
          </p>
          <p>To see a finished one, stop the program and start it on the example laboratory:</p>
          <pre>npm start</pre>
          <p>
            If you have counts already, the terminal judges them at once:{' '}
            <code>retentate claim --portion 1.02g:14 --blank 3</code>
          </p>
        </Nothing>
      ) : (
        <ul className="studies">
          {data.studies.map((study) => (
            <li key={study.id}>
              <a href={pathTo({ page: 'stands', study: study.id })}>
                <span className="study-name">{study.name}</span>
                <span className="study-claim">{unbroken(study.claim_sentence)}</span>
                <span className="study-facts">
                  {STATE_WORDS[study.claim_state]} · {many(study.runs, 'run')} ·{' '}
                  {many(study.controls, 'control')} · {many(study.photos, 'photograph')}
                  {study.demonstration ? ' · invented example' : ''}
                </span>
              </a>
            </li>
          ))}
        </ul>
      )}
      <BringStudyIn />
    </div>
  );
}
