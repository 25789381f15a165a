import { useQuery } from '@tanstack/react-query';
import { useEffect } from 'react';
import type { RunJson } from '../../api/index.ts';
import { figure } from '../../report/index.ts';
import { pathTo } from '../app/where.ts';
import { Failed, Nothing, PlaceHead, Section, Waiting } from '../look/parts.tsx';
import { KIND_WORDS, shareWords } from '../look/words.ts';
import { runsQuery, standingQuery } from '../server/queries.ts';
import { RunsPicture } from '../stands/picture.tsx';
import { CountMark } from './count-mark.tsx';

/** Runs and controls: the picture first, then every figure that enters the claim. */
export function RunsPlace({ study, chosen }: { study: string; chosen: string | null }) {
  const { data, error, refetch } = useQuery(runsQuery(study));
  const claim = useQuery(standingQuery(study)).data?.claim;
  useEffect(() => {
    if (chosen && data) document.getElementById(`run-${chosen}`)?.scrollIntoView({ block: 'center' });
  }, [chosen, data]);
  if (error && !data) return <Failed error={error} again={() => void refetch()} />;
  if (!data) return <Waiting what="the runs" />;
  const specimens = data.runs.filter((run) => run.kind === 'specimen-run');
  const controls = data.runs.filter((run) => run.kind !== 'specimen-run');
  return (
    <div className="page">
      <PlaceHead
        title="Runs"
        lead="Each run carries out the procedure once, on a portion of the product or as a control without it."
      />
      {data.runs.length === 0 ? (
        <Nothing icon="runs" title="No run yet">
          <p>
            Six portions of the product and six matching controls are a good first plan: done in mixed order,
            on the same days, with the same liquids. A single pair can already show a strong release.
          </p>
        </Nothing>
      ) : (
        <>
          {claim ? <RunsPicture study={study} runs={data.runs} claim={claim} /> : null}
          <RunTable title="On the product" study={study} runs={specimens} chosen={chosen} />
          <RunTable title="Controls" study={study} runs={controls} chosen={chosen} />
          <Section title="How to read a count">
            <ul className="count-key">
              <li>
                <CountMark count={{ state: 'counted', count: 12, undecided: 0 }} /> were found and counted.
              </li>
              <li>
                <CountMark count={{ state: 'counted', count: 0, undecided: 0 }} /> means: looked, and found
                none. The claim uses it.
              </li>
              <li>
                <CountMark count={{ state: 'not-looked' }} /> means: no photograph was searched. It is not a
                zero, and the claim leaves the run out.
              </li>
              <li>
                A piece smaller than the optics resolve could not have been seen; it is in no count, and each
                photograph states from which size on it was searched.
              </li>
            </ul>
          </Section>
        </>
      )}
    </div>
  );
}

function RunTable({
  title,
  study,
  runs,
  chosen,
}: {
  title: string;
  study: string;
  runs: readonly RunJson[];
  chosen: string | null;
}) {
  if (runs.length === 0) return null;
  const weighed = runs.some((run) => run.portion !== null);
  return (
    <Section title={title}>
      <table className="runs-table">
        <thead>
          <tr>
            <th scope="col">Run</th>
            <th scope="col">Kind</th>
            {weighed ? (
              <th scope="col" className="num">
                Portion
              </th>
            ) : null}
            <th scope="col" className="num">
              Passed
            </th>
            <th scope="col" className="num">
              Examined
            </th>
            <th scope="col" className="num">
              Counted
            </th>
            <th scope="col">Filters</th>
          </tr>
        </thead>
        <tbody>
          {runs.map((run) => (
            <tr key={run.id} id={`run-${run.id}`} className={run.id === chosen ? 'is-chosen' : undefined}>
              <th scope="row">
                <span>{run.name}</span>
                {run.remarks.map((remark) => (
                  <small key={remark} className="remark">
                    {remark}
                  </small>
                ))}
              </th>
              <td data-name="Kind">
                {run.kind === 'specimen-run' ? run.specimen : KIND_WORDS[run.kind]}
                {run.background_from ? <small> in the background</small> : null}
                {run.added !== null ? <small> {figure(run.added)} pieces put in</small> : null}
              </td>
              {weighed ? (
                <td data-name="Portion" className="num">
                  {run.portion ? `${figure(run.portion.mass_g)} g` : '–'}
                </td>
              ) : null}
              <td data-name="Passed" className="num">
                {shareWords(run.passed)}
              </td>
              <td data-name="Examined" className="num">
                {shareWords(run.examined)}
              </td>
              <td data-name="Counted" className="num">
                <CountMark count={run.count} />
              </td>
              <td data-name="Filters">
                {run.filters.length === 0 ? (
                  <small>none</small>
                ) : (
                  run.filters.map((filter, k) => (
                    <a key={filter} className="open" href={pathTo({ page: 'filters', study, item: filter })}>
                      {run.filters.length === 1 ? 'Open' : `Open ${k + 1}`}
                      <span className="unseen"> filter of {run.name}</span>
                    </a>
                  ))
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </Section>
  );
}
