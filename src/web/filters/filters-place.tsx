import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { FilterJson } from '../../api/index.ts';
import { percent } from '../../report/index.ts';
import { pathTo } from '../app/where.ts';
import { Icon } from '../look/icons.tsx';
import { Failed, Nothing, NotYet, PlaceHead, Section, Waiting } from '../look/parts.tsx';
import { KIND_WORDS, many } from '../look/words.ts';
import { AddFilter } from '../runs/add-filter.tsx';
import { CountMark } from '../runs/count-mark.tsx';
import { filtersQuery, runsQuery } from '../server/queries.ts';
import { CompletenessHere } from './completeness.tsx';
import { Disc, DiscKey } from './disc.tsx';
import { SetAside } from './photo-move.tsx';
import { SearchStop } from './search-stop.tsx';
import { Searching } from './searching.tsx';
import { isHidden } from './squares.ts';

/** All filters of the study as discs: what was looked at, what waits, what nobody has photographed. */
export function FiltersPlace({ study }: { study: string }) {
  const { data, error, refetch } = useQuery(filtersQuery(study));
  const read = useQuery(runsQuery(study));
  const runs = read.data?.runs;
  const [laying, setLaying] = useState(false);
  if (error && !data) return <Failed error={error} again={() => void refetch()} />;
  if (!data) return <Waiting what="the filters" />;
  const specimens = data.filters.filter((filter) => filter.run.kind === 'specimen-run');
  const controls = data.filters.filter((filter) => filter.run.kind !== 'specimen-run');
  return (
    <div className="page">
      <PlaceHead
        title="Filters"
        lead="Each disc is one membrane with its printed squares. Open one to bring in photographs and to look."
      >
        {runs === undefined ? <NotYet query={read} what="the runs" /> : null}
        {laying || !runs?.length ? null : (
          <button type="button" className="button primary" onClick={() => setLaying(true)}>
            <Icon name="add" size={20} /> Lay a filter
          </button>
        )}
      </PlaceHead>
      {laying && runs ? <AddFilter study={study} runs={runs} onClose={() => setLaying(false)} /> : null}
      {data.filters.length === 0 ? (
        <Nothing icon="filters" title="No filter yet">
          <p>
            A run ends on one or more filters. As soon as a run has its filter, photographs of it can be
            dropped here: the printed squares give the scale, and particles are found and measured by
            themselves.
          </p>
        </Nothing>
      ) : (
        <>
          <p className="filters-ways">
            <a className="button" href={pathTo({ page: 'beside', study, photos: [null, null] })}>
              <Icon name="beside" /> Two beside each other
            </a>
          </p>
          <SearchStop study={study} filters={data.filters} />
          <DiscKey />
          <Group title="Runs on the product" filters={specimens} study={study} />
          <Group title="Controls" filters={controls} study={study} />
          <SetAside study={study} />
          <Searching study={study} />
          <CompletenessHere study={study} />
        </>
      )}
    </div>
  );
}

function Group({ title, filters, study }: { title: string; filters: readonly FilterJson[]; study: string }) {
  if (filters.length === 0) return null;
  return (
    <Section title={title}>
      <ul className="discs">
        {filters.map((filter) => {
          const undecided = filter.photos.reduce((sum, photo) => sum + (photo.undecided ?? 0), 0);
          return (
            <li key={filter.id}>
              <a href={pathTo({ page: 'filters', study, item: filter.id })}>
                <Disc filter={filter} most={168} />
                <span className="disc-name">{filter.name}</span>
                <span className="disc-run">
                  {filter.run.name}, {KIND_WORDS[filter.run.kind]}
                </span>
                <CountMark count={filter.count} hidden={isHidden(filter)} />
                <span className="disc-run">
                  {filter.photos.length === 0
                    ? 'no photograph yet'
                    : `${many(filter.photos.length, 'photograph')}, ${filter.examined === 0 ? 'nothing' : percent(filter.examined)} examined`}
                </span>
                {undecided > 0 ? (
                  <span className="disc-undecided">{many(undecided, 'particle')} to decide</span>
                ) : null}
              </a>
            </li>
          );
        })}
      </ul>
    </Section>
  );
}
