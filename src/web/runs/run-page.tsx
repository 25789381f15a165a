import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { figure } from '../../report/index.ts';
import { pathTo } from '../app/where.ts';
import { Icon } from '../look/icons.tsx';
import { Fact, Failed, Nothing, PlaceHead, Section, Waiting } from '../look/parts.tsx';
import { KIND_WORDS, shareWords, upper } from '../look/words.ts';
import { benchQuery, filtersQuery, runsQuery } from '../server/queries.ts';
import { AddFilter } from './add-filter.tsx';
import { CountMark } from './count-mark.tsx';
import { RunRecord } from './run-record.tsx';
import { RUN_STATE_WORDS, runState } from './run-state.ts';
import { Weighed } from './weighed.tsx';
import { Withdraw, WithdrawnHere } from './withdrawal.tsx';

/** One run: what it was done on, its filters, where its liquid went, and what was done otherwise. */
export function RunPage({ study, run: id }: { study: string; run: string }) {
  const { data, error, refetch } = useQuery(runsQuery(study));
  const filters = useQuery(filtersQuery(study)).data?.filters.filter((filter) => filter.run.id === id);
  const bench = useQuery(benchQuery(study)).data?.runs.find((one) => one.run === id);
  const [laying, setLaying] = useState(false);
  if (error && !data) return <Failed error={error} again={() => void refetch()} />;
  if (!data) return <Waiting what="the run" />;
  const run = data.runs.find((one) => one.id === id);
  if (!run) {
    return (
      <div className="page">
        <PlaceHead title="Run" lead="No run with that address counts in this study." />
        <a className="button" href={pathTo({ page: 'runs', study, item: null })}>
          All runs of the study
        </a>
        <WithdrawnHere study={study} kinds={['run', 'portion']} />
      </div>
    );
  }
  return (
    <div className="page">
      <p className="back">
        <a href={pathTo({ page: 'runs', study, item: null })}>
          <Icon name="back" size={20} /> All runs
        </a>
      </p>
      <PlaceHead
        title={run.name}
        lead={[
          upper(run.kind === 'specimen-run' ? `on ${run.specimen}` : KIND_WORDS[run.kind]),
          run.on,
          run.operator,
        ]
          .filter(Boolean)
          .join(', ')}
      >
        <a className="button primary" href={pathTo({ page: 'bench', study, run: run.id })}>
          <Icon name="procedure" size={20} /> At the bench
        </a>
      </PlaceHead>
      <dl className="facts">
        <Fact
          name="Counted"
          value={<CountMark count={run.count} />}
          note={bench ? RUN_STATE_WORDS[runState(run, bench)] : null}
        />
        <Fact
          name="Portion"
          value={run.portion ? `${figure(run.portion.mass_g)} g` : 'none'}
          note={run.portion?.name ?? (run.added === null ? null : `${figure(run.added)} known pieces put in`)}
        />
        <Fact name="Passed" value={shareWords(run.passed)} note="of the liquid, through filters looked at" />
        <Fact name="Examined" value={shareWords(run.examined)} note="of those filters" />
      </dl>
      {bench ? <RunRecord study={study} run={run} bench={bench} /> : null}
      {run.kind === 'specimen-run' ? <Weighed study={study} run={run} /> : null}
      <Section title="Filters">
        {laying ? (
          <AddFilter study={study} runs={[run]} onClose={() => setLaying(false)} />
        ) : (
          <p>
            <button type="button" className="button primary" onClick={() => setLaying(true)}>
              <Icon name="add" size={20} /> Lay a filter
            </button>
          </p>
        )}
        {filters && filters.length > 0 ? (
          <ul className="run-filters">
            {filters.map((filter) => (
              <li key={filter.id}>
                <a href={pathTo({ page: 'filters', study, item: filter.id })}>{filter.name}</a>
                <CountMark count={filter.count} />
              </li>
            ))}
          </ul>
        ) : laying ? null : (
          <Nothing icon="filters" title="No filter yet">
            <p>
              Nothing of this run can be looked at before it has one. That is not a count of none: it is not
              looked.
            </p>
          </Nothing>
        )}
      </Section>
      <Section title="If it should not count" lead="For a run that went wrong. It can be put back.">
        <Withdraw
          study={study}
          what="run"
          subject={run.id}
          name={run.name}
          counted={run.count.state === 'counted'}
        />
      </Section>
    </div>
  );
}
