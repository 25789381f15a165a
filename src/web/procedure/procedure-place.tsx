import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { ProcedureJson } from '../../api/index.ts';
import { pathTo } from '../app/where.ts';
import { Failed, Nothing, NotYet, PlaceHead, Section, Waiting } from '../look/parts.tsx';
import { WithdrawnHere } from '../runs/withdrawal.tsx';
import { proceduresQuery, runsQuery, stepKindsQuery } from '../server/queries.ts';
import { ReportingChecklist } from './checklist.tsx';
import { Controls } from './controls.tsx';
import { Coverage } from './coverage.tsx';
import { ProcedureEditor } from './procedure-editor.tsx';
import { Procedure } from './procedures.tsx';

/** Which edition each run followed, whether its controls followed the same one, and what was done otherwise. */
export function ProcedurePlace({ study }: { study: string }) {
  const { data, error, refetch } = useQuery(runsQuery(study));
  const written = useQuery(proceduresQuery(study));
  const kinds = useQuery(stepKindsQuery).data?.kinds ?? [];
  const [editing, setEditing] = useState<ProcedureJson | 'new' | null>(null);
  if (error && !data) return <Failed error={error} again={() => void refetch()} />;
  if (!data) return <Waiting what="the procedure" />;
  const procedures = written.data?.procedures;
  if (editing !== null) {
    return (
      <ProcedureEditor
        study={study}
        procedure={editing === 'new' ? null : editing}
        close={() => setEditing(null)}
      />
    );
  }
  const remarked = data.runs.filter((run) => run.remarks.length > 0);
  return (
    <div className="page">
      <PlaceHead
        title="Procedure"
        lead="A run is judged only against controls that went through the same steps. Every change makes a new edition; old ones stay."
      />
      <Section
        title="How it is done"
        lead="A procedure for the runs and one for each kind of control. Open one to read its steps."
      >
        {procedures === undefined ? (
          <NotYet query={written} what="the procedures" />
        ) : procedures.length === 0 ? (
          <Nothing icon="procedure" title="No procedure yet">
            <p>
              Write down the steps once: weigh, rinse, cut, soak, digest, filter, photograph. Each run then
              says which edition it followed, and the program compares it with its controls step by step.
            </p>
          </Nothing>
        ) : (
          procedures.map((procedure) => (
            <Procedure
              key={procedure.id}
              study={study}
              procedure={procedure}
              kinds={kinds}
              change={() => setEditing(procedure)}
            />
          ))
        )}
        <p className="section-deeds">
          <button type="button" className="button primary" onClick={() => setEditing('new')}>
            Write a procedure
          </button>{' '}
          <a className="button" href={pathTo({ page: 'liquids', table: null })}>
            Filter, settle, float, digest: work it out
          </a>
        </p>
      </Section>
      <WithdrawnHere study={study} kinds={['procedure']} />
      <Coverage study={study} kinds={kinds} />
      <Controls study={study} />
      <Section title="Done otherwise" lead="Deviations, kept remainders and what else a reader must know.">
        {remarked.length === 0 ? (
          <p>No deviation is on record.</p>
        ) : (
          <dl className="remarks">
            {remarked.map((run) => (
              <div key={run.id}>
                <dt>
                  <a href={pathTo({ page: 'runs', study, item: run.id })}>{run.name}</a>
                </dt>
                {run.remarks.map((remark) => (
                  <dd key={remark}>{remark}</dd>
                ))}
              </div>
            ))}
          </dl>
        )}
      </Section>
      <ReportingChecklist study={study} />
    </div>
  );
}
