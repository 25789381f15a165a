import { useState } from 'react';
import type { EditionJson, ProcedureJson, RunJson, StepKindsAnswer } from '../../api/index.ts';
import { editionChanges } from '../../study/index.ts';
import { Choice } from '../look/fields.tsx';
import { many, manyOf } from '../look/words.ts';
import { Withdraw } from '../runs/withdrawal.tsx';
import { asStep } from './as-step.ts';
import { StepList } from './step-list.tsx';

type Kinds = StepKindsAnswer['kinds'];

/** One procedure: the edition in use as a readable list, who followed which, and what each edition changed. */
export function Procedure({
  study,
  procedure,
  kinds,
  change,
}: {
  study: string;
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
        {latest.stops.map((stop) => (
          <p key={stop} className="warned">
            <strong>Stop.</strong> {stop}
          </p>
        ))}
        <StepList steps={latest.steps} kinds={kinds} />
        <p>
          <button type="button" className="button" onClick={change}>
            Change it: a new edition
          </button>
        </p>
        <Withdraw study={study} what="procedure" subject={procedure.id} name={procedure.name} />
        {editions.length > 2 ? <Compare editions={editions} /> : null}
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

/** Any two editions against each other, in sentences. */
function Compare({ editions }: { editions: readonly EditionJson[] }) {
  const last = editions.length - 1;
  const [from, setFrom] = useState('0');
  const [to, setTo] = useState(String(last));
  const [before, after] = [editions[Number(from)]!, editions[Number(to)]!];
  const changes = editionChanges(before.steps.map(asStep), after.steps.map(asStep));
  const options = editions.map(({ number }, at) => [String(at), `edition ${number}`] as const);
  return (
    <details className="checklist-rest">
      <summary>Compare any two editions</summary>
      <div className="fields">
        <Choice label="From" value={from} set={setFrom} options={options} />
        <Choice label="To" value={to} set={setTo} options={options} />
      </div>
      {changes.length === 0 ? (
        <p>They are the same, step for step.</p>
      ) : (
        <ul className="changes">
          {changes.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
      )}
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
