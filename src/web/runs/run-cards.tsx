import type { BenchAnswer, BenchRunJson, RunJson } from '../../api/index.ts';
import { figure } from '../../report/index.ts';
import { pathTo } from '../app/where.ts';
import { Icon } from '../look/icons.tsx';
import { KIND_WORDS, many, sessionWords } from '../look/words.ts';
import { CountMark } from './count-mark.tsx';
import { COVERAGE_WORDS, RUN_STATE_WORDS, RUN_STATES, runState } from './run-state.ts';

interface OfRuns {
  readonly study: string;
  readonly runs: readonly RunJson[];
  readonly bench: BenchAnswer;
}

const inOrder = ({ runs, bench }: OfRuns): readonly (readonly [RunJson, BenchRunJson])[] => {
  const known = new Map(runs.map((run) => [run.id, run]));
  return bench.runs.flatMap((one) => {
    const run = known.get(one.run);
    return run ? [[run, one] as const] : [];
  });
};

/** All runs as dots in the order in which they are done: round on the product, square for a control. */
export function RunDots(given: OfRuns) {
  const lines = inOrder(given);
  const there = new Set(lines.map(([run, bench]) => runState(run, bench)));
  return (
    <figure className="run-dots">
      <ol aria-label="Runs in the order in which they are done">
        {lines.map(([run, bench]) => {
          const state = runState(run, bench);
          return (
            <li key={run.id}>
              <a
                href={pathTo({ page: 'runs', study: given.study, item: run.id })}
                className={`run-dot is-${state} ${run.kind === 'specimen-run' ? 'on-product' : 'is-control'}`}
                aria-label={`${run.name}, ${KIND_WORDS[run.kind]}: ${RUN_STATE_WORDS[state]}`}
                title={`${run.name}: ${RUN_STATE_WORDS[state]}`}
              >
                {bench.order}
              </a>
            </li>
          );
        })}
      </ol>
      <figcaption>
        {RUN_STATES.filter((state) => there.has(state)).map((state) => (
          <span className="key" key={state}>
            <i className={`run-dot small is-${state}`} /> {RUN_STATE_WORDS[state]}
          </span>
        ))}
        <span className="key">
          <i className="run-dot small is-planned on-product" /> on the product
        </span>
        <span className="key">
          <i className="run-dot small is-planned is-control" /> control
        </span>
      </figcaption>
    </figure>
  );
}

export function RunCards(given: OfRuns) {
  return (
    <ol className="run-cards">
      {inOrder(given).map(([run, bench]) => (
        <li key={run.id}>
          <RunCard study={given.study} run={run} bench={bench} />
        </li>
      ))}
    </ol>
  );
}

function RunCard({ study, run, bench }: { study: string; run: RunJson; bench: BenchRunJson }) {
  const state = runState(run, bench);
  const { coverage, balance } = bench;
  const open = coverage?.gaps.filter((gap) => gap.grade !== 'unknown').length ?? 0;
  const missing = !balance.agrees && balance.missing_ml !== null && balance.out_ml > 0;
  return (
    <article className={`run-card is-${state}`}>
      <span className={`run-dot is-${state} ${run.kind === 'specimen-run' ? 'on-product' : 'is-control'}`}>
        {bench.order}
      </span>
      <h3>
        <a href={pathTo({ page: 'runs', study, item: run.id })}>{run.name}</a>
      </h3>
      <p className="run-kind">
        {run.kind === 'specimen-run' ? run.specimen : KIND_WORDS[run.kind]}
        {run.portion ? `, ${figure(run.portion.mass_g)} g` : ''} · {sessionWords(bench.session)}
      </p>
      <p className="run-state-words">
        {RUN_STATE_WORDS[state]}
        {state === 'looked-at' && bench.clogged ? ', filter clogged' : ''}
        {state === 'under-way' || state === 'clogged' ? `, ${bench.steps_done} of ${bench.steps} steps` : ''}
      </p>
      <CountMark count={run.count} />
      {bench.deviations.length > 0 ? (
        <p className="run-fact">{many(bench.deviations.length, 'deviation')}</p>
      ) : null}
      {coverage ? (
        <p className={open > 0 ? 'run-fact warned' : 'run-fact'}>
          {open > 0 ? <Icon name="warn" size={18} /> : <Icon name="keep" size={18} />}{' '}
          {COVERAGE_WORDS[coverage.grade]}
        </p>
      ) : null}
      {missing ? (
        <p className="run-fact warned">
          <Icon name="warn" size={18} />{' '}
          {balance.missing_ml! > 0
            ? `${figure(Number(balance.missing_ml!.toPrecision(3)))} mL nobody accounts for`
            : 'more came out than went in'}
        </p>
      ) : null}
      {state === 'planned' || state === 'under-way' ? (
        <a className="button" href={pathTo({ page: 'bench', study, run: run.id })}>
          {state === 'planned' ? 'Carry it out' : 'Go on with it'}
          <span className="unseen"> {run.name}</span>
        </a>
      ) : null}
    </article>
  );
}
