import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { FilterJson } from '../../api/index.ts';
import { pathTo, type Where } from '../app/where.ts';
import { Icon } from '../look/icons.tsx';
import { filtersQuery } from '../server/queries.ts';
import { leaveSteps, useVisited } from './visited.ts';

interface Step {
  readonly done: Where['page'];
  readonly to: string;
  readonly does: string;
  readonly says: string;
}

/** The way from question to claim, walked on the example itself: nothing is acted, every step is the real work. */
export function FirstSteps({ study }: { study: string }) {
  const visited = useVisited();
  const filters = useQuery(filtersQuery(study)).data?.filters;
  const [left, setLeft] = useState(visited.has('left'));
  // Without the filters the first step would lead elsewhere.
  if (left || !filters) return null;
  const place = (page: 'procedure' | 'runs' | 'evidence' | 'claim') => pathTo({ page, study, item: null });
  const steps: readonly Step[] = [
    {
      done: 'photo',
      to: photoOf(study, filters),
      does: 'Look at a photograph and drop a piece',
      says: 'The sentence above follows each decision; U takes it back.',
    },
    {
      done: 'procedure',
      to: place('procedure'),
      does: 'Find the runs whose controls no longer match',
      says: 'The knife was changed after the third run, the alkali before the last; the woven band shows what that leaves open.',
    },
    {
      done: 'runs',
      to: place('runs'),
      does: 'Open a run: what passed, what was kept back',
      says: 'An early run clogged; its remainder has a place.',
    },
    {
      done: 'evidence',
      to: place('evidence'),
      does: 'See how it is known what a piece is',
      says: 'Tests, drills with the scorer’s own errors, and a round scored without knowing.',
    },
    {
      done: 'claim',
      to: place('claim'),
      does: 'Open what the claim rests on, and take the report',
      says: 'Every number leads to its photographs, marks and formula.',
    },
    {
      done: 'new-study',
      to: pathTo({ page: 'new-study' }),
      does: 'Ask a question of your own',
      says: 'Ten questions make a plan with runs, controls and a shopping list.',
    },
  ];
  return (
    <section className="first-steps" aria-label="First steps">
      <h2>Walk through the example</h2>
      <ol>
        {steps.map(({ done, to, does, says }) => (
          <li key={done} className={visited.has(done) ? 'is-done' : undefined}>
            <a href={to}>
              {visited.has(done) ? <Icon name="keep" size={20} /> : null}
              {does}
              {visited.has(done) ? <span className="unseen"> (done)</span> : null}
            </a>
            <small>{says}</small>
          </li>
        ))}
      </ol>
      <button
        type="button"
        className="button quiet"
        onClick={() => {
          leaveSteps();
          setLeft(true);
        }}
      >
        I know my way
      </button>
    </section>
  );
}

/** A photograph of the product with the most particles to decide on; else the list of filters. */
function photoOf(study: string, filters: readonly FilterJson[]): string {
  const photos = filters
    .filter((one) => one.run.kind === 'specimen-run')
    .flatMap((one) => one.photos)
    .filter((one) => one.state === 'searched')
    .sort((a, b) => (b.particles ?? 0) - (a.particles ?? 0));
  const best = photos[0];
  return best
    ? pathTo({ page: 'photo', study, filter: best.filter, photo: best.id })
    : pathTo({ page: 'filters', study, item: null });
}
