import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { pathTo } from '../app/where.ts';
import { Icon } from '../look/icons.tsx';
import { Failed, Nothing, PlaceHead, Section, Waiting } from '../look/parts.tsx';
import { benchQuery, runsQuery, standingQuery } from '../server/queries.ts';
import { RunsPicture } from '../stands/picture.tsx';
import { AddRuns } from './add-runs.tsx';
import { CountMark } from './count-mark.tsx';
import { FindCode } from './find-code.tsx';
import { OrderRuns } from './order-runs.tsx';
import { RunCards, RunDots } from './run-cards.tsx';
import { runState } from './run-state.ts';
import { RunTable } from './run-table.tsx';
import { WithdrawnHere } from './withdrawal.tsx';

/** Runs and controls: the picture first, then every figure that enters the claim. */
export function RunsPlace({ study }: { study: string }) {
  const { data, error, refetch } = useQuery(runsQuery(study));
  const claim = useQuery(standingQuery(study)).data?.claim;
  const bench = useQuery(benchQuery(study)).data;
  const [doing, setDoing] = useState<'nothing' | 'adding' | 'ordering'>('nothing');
  if (error && !data) return <Failed error={error} again={() => void refetch()} />;
  if (!data) return <Waiting what="the runs" />;
  const specimens = data.runs.filter((run) => run.kind === 'specimen-run');
  const controls = data.runs.filter((run) => run.kind !== 'specimen-run');
  // One that is under way comes before the next that is planned.
  const open = (bench?.runs ?? []).flatMap((one) => {
    const run = data.runs.find((other) => other.id === one.run);
    return run ? [{ id: run.id, name: run.name, state: runState(run, one) }] : [];
  });
  const next =
    open.find(({ state }) => state === 'under-way') ?? open.find(({ state }) => state === 'planned') ?? null;
  return (
    <div className="page">
      <PlaceHead
        title="Runs"
        lead="Each run carries out the procedure once, on a portion of the product or as a control without it."
      >
        {next ? (
          <a className="button primary" href={pathTo({ page: 'bench', study, run: next.id })}>
            <Icon name="procedure" size={20} /> Next: {next.name}
          </a>
        ) : null}
        {doing === 'nothing' ? (
          <button
            type="button"
            className={next ? 'button' : 'button primary'}
            onClick={() => setDoing('adding')}
          >
            <Icon name="add" size={20} /> Add runs
          </button>
        ) : null}
      </PlaceHead>
      {doing === 'adding' ? (
        <AddRuns study={study} runs={data.runs} onClose={() => setDoing('nothing')} />
      ) : doing === 'ordering' ? (
        <OrderRuns study={study} order={bench?.order ?? null} onClose={() => setDoing('nothing')} />
      ) : null}
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
          {bench ? (
            <Section title="In the order of the work">
              <div className="runs-ways">
                <button type="button" className="button" onClick={() => setDoing('ordering')}>
                  Draw the order
                </button>
                <a className="button" href={pathTo({ page: 'labels', study })}>
                  Labels
                </a>
                <a className="button" href={pathTo({ page: 'network' })}>
                  Telephone at the bench
                </a>
                <FindCode />
              </div>
              <RunDots study={study} runs={data.runs} bench={bench} />
              <p className="fine">
                {bench.order
                  ? `Drawn by chance from seed ${bench.order.seed} (${bench.order.method})${bench.order.by ? ` by ${bench.order.by}` : ''}.`
                  : 'In the order in which they were entered; nobody has drawn one by chance yet.'}
              </p>
              <RunCards study={study} runs={data.runs} bench={bench} />
            </Section>
          ) : null}
          <RunTable title="On the product" study={study} runs={specimens} chosen={null} />
          <RunTable title="Controls" study={study} runs={controls} chosen={null} />
        </>
      )}
      <WithdrawnHere study={study} kinds={['run', 'portion']} />
      {data.runs.length > 0 ? <HowToRead /> : null}
    </div>
  );
}

function HowToRead() {
  return (
    <Section title="How to read a count">
      <ul className="count-key">
        <li>
          <CountMark count={{ state: 'counted', count: 12, undecided: 0 }} /> were found and counted.
        </li>
        <li>
          <CountMark count={{ state: 'counted', count: 0, undecided: 0 }} /> means: looked, and found none.
          The claim uses it.
        </li>
        <li>
          <CountMark count={{ state: 'not-looked' }} /> means: no photograph was searched. It is not a zero,
          and the claim leaves the run out.
        </li>
        <li>
          A piece smaller than the optics resolve could not have been seen; it is in no count, and each
          photograph states from which size on it was searched.
        </li>
      </ul>
    </Section>
  );
}
