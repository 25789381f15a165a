import { useQuery } from '@tanstack/react-query';
import type { RunJson } from '../../api/index.ts';
import { pathTo } from '../app/where.ts';
import { Failed, Nothing, PlaceHead, Section, Waiting } from '../look/parts.tsx';
import { many, manyOf, upper } from '../look/words.ts';
import { runsQuery } from '../server/queries.ts';

/** Which edition each run followed, whether its controls followed the same one, and what was done otherwise. */
export function ProcedurePlace({ study }: { study: string }) {
  const { data, error, refetch } = useQuery(runsQuery(study));
  if (error && !data) return <Failed error={error} again={() => void refetch()} />;
  if (!data) return <Waiting what="the procedure" />;
  const editions = [...new Set(data.runs.map((run) => run.edition))];
  const remarked = data.runs.filter((run) => run.remarks.length > 0);
  return (
    <div className="page">
      <PlaceHead
        title="Procedure"
        lead="A run is judged only against controls that went through the same steps. Every change makes a new edition; old ones stay."
      />
      {data.runs.length === 0 ? (
        <Nothing icon="procedure" title="No run follows a procedure yet">
          <p>
            Write down the steps once: weigh, rinse, cut, soak, digest, filter, photograph. Each run then says
            which edition it followed, and the program compares it with its controls step by step.
          </p>
        </Nothing>
      ) : (
        <Section title="Editions and who followed them">
          <div className="editions">
            {editions.map((edition) => (
              <Edition
                key={edition ?? 'none'}
                edition={edition}
                runs={data.runs.filter((run) => run.edition === edition)}
              />
            ))}
          </div>
        </Section>
      )}
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
    </div>
  );
}

function Edition({ edition, runs }: { edition: string | null; runs: readonly RunJson[] }) {
  const specimens = runs.filter((run) => run.kind === 'specimen-run');
  const kinds = [...new Set(runs.filter((run) => run.kind !== 'specimen-run').map((run) => run.kind))];
  return (
    <article className="edition">
      <h3>{upper(edition ?? 'no edition on record')}</h3>
      <p>
        {specimens.length === 0 ? 'No specimen run' : many(specimens.length, 'specimen run')}
        {': '}
        {specimens.map((run) => run.name).join(', ') || 'controls only'}
      </p>
      {kinds.length === 0 ? (
        <p className="warned">
          No control followed this edition: its runs have nothing to be judged against.
        </p>
      ) : (
        <ul className="tags">
          {kinds.map((kind) => (
            <li key={kind}>{manyOf(runs.filter((run) => run.kind === kind).length, kind)}</li>
          ))}
        </ul>
      )}
    </article>
  );
}
