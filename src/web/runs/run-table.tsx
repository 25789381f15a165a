import type { RunJson } from '../../api/index.ts';
import { figure } from '../../report/index.ts';
import { pathTo } from '../app/where.ts';
import { Section } from '../look/parts.tsx';
import { KIND_WORDS, shareWords } from '../look/words.ts';
import { CountMark } from './count-mark.tsx';

/** Every figure of the runs that enters the claim. */
export function RunTable({
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
                <a href={pathTo({ page: 'runs', study, item: run.id })}>{run.name}</a>
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
