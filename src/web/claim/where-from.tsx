import type { ReactNode } from 'react';
import type { LookedJson } from '../../api/index.ts';
import { pathTo } from '../app/where.ts';
import { countWords } from '../look/words.ts';
import { MethodLink } from '../methods/method-link.tsx';
import type { MethodName } from '../methods/methods.ts';

/** Opens a number to what is behind it: formula, runs and their filters, source. Closed until somebody asks. */
export function WhereFrom({
  formula,
  runs,
  study,
  source,
  method,
  deceives,
  children,
}: {
  formula: ReactNode;
  runs?: readonly LookedJson[];
  study: string;
  source: string;
  method?: MethodName;
  deceives?: string;
  children?: ReactNode;
}) {
  return (
    <details className="where-from">
      <summary>Where this comes from</summary>
      <div className="where-from-body">
        <p className="formula">{formula}</p>
        {children}
        {runs && runs.length > 0 ? <RunTags study={study} runs={runs} /> : null}
        {deceives ? (
          <p className="fine">
            <strong>Deceives when</strong> {deceives}
          </p>
        ) : null}
        <p className="fine">
          {source} {method ? <MethodLink name={method} /> : null}
        </p>
      </div>
    </details>
  );
}

/** Runs with what was counted on them, each a way to its filters, photographs and marks. */
function RunTags({ study, runs }: { study: string; runs: readonly LookedJson[] }) {
  return (
    <ul className="run-tags">
      {runs.map((run) => (
        <li key={run.run}>
          <a
            href={
              run.filters.length === 1
                ? pathTo({ page: 'filters', study, item: run.filters[0]! })
                : pathTo({ page: 'runs', study, item: run.run })
            }
          >
            {run.name}
          </a>{' '}
          {countWords(run.count)}
        </li>
      ))}
    </ul>
  );
}
