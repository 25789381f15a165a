import type { EditionJson, ProcedureJson, RunJson, StepKindsAnswer } from '../../api/index.ts';
import { many, manyOf } from '../look/words.ts';
import { StepList } from './step-list.tsx';

type Kinds = StepKindsAnswer['kinds'];

/** One procedure: the edition in use as a readable list, who followed which, and what each edition changed. */
export function Procedure({
  procedure,
  kinds,
  change,
}: {
  procedure: ProcedureJson;
  kinds: Kinds;
  change: () => void;
}) {
  const { editions } = procedure;
  const latest = editions[editions.length - 1]!;
  return (
    <details className="procedure">
      <summary>
        <span className="procedure-name">{procedure.name}</span>
        <small>
          {many(latest.steps.length, 'step')} · edition {latest.number} · {followed(editions)}
        </small>
      </summary>
      <div className="procedure-body">
        <StepList steps={latest.steps} kinds={kinds} />
        <p>
          <button type="button" className="button" onClick={change}>
            Change it: a new edition
          </button>
        </p>
        {editions.length > 1 ? (
          <ol className="edition-list" reversed>
            {[...editions].reverse().map((edition) => (
              <li key={edition.id}>
                <h4>
                  Edition {edition.number}
                  <small>
                    {' '}
                    {edition.on.slice(0, 10)}
                    {edition.by ? `, ${edition.by}` : ''} · {runsOf(edition)}
                  </small>
                </h4>
                {edition.because ? <p className="reading">{edition.because}</p> : null}
                {edition.changes.length > 0 ? (
                  <ul className="changes">
                    {edition.changes.map((sentence) => (
                      <li key={sentence}>{sentence}</li>
                    ))}
                  </ul>
                ) : (
                  <p className="fine">The first one.</p>
                )}
              </li>
            ))}
          </ol>
        ) : null}
      </div>
    </details>
  );
}

const followed = (editions: readonly EditionJson[]): string => {
  const runs = editions.flatMap((edition) => edition.runs);
  if (runs.length === 0) return 'no run yet';
  const kinds = [...new Set(runs.map((run) => run.kind))];
  return kinds
    .map((kind) => manyOf(runs.filter((run) => run.kind === kind).length, kind as RunJson['kind']))
    .join(', ');
};

const runsOf = (edition: EditionJson): string =>
  edition.runs.length === 0 ? 'no run followed it' : edition.runs.map((run) => run.name).join(', ');
