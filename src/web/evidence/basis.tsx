import { useQuery } from '@tanstack/react-query';
import type { RunJson } from '../../api/index.ts';
import { figure, percent } from '../../report/index.ts';
import { Failed, NotYet, Section, Waiting } from '../look/parts.tsx';
import { countWords, KIND_SHOWS, KIND_WORDS, manyOf } from '../look/words.ts';
import { runsQuery, standingQuery } from '../server/queries.ts';

const TEST_WORDS: Readonly<Record<string, string>> = {
  'conditional-exact': 'Exact comparison of the two totals',
  permutation: 'Relabelling of the runs',
  'joint-model': 'Joint model of runs and controls',
  'e-test': 'Standardised difference of two counts',
};

/** What the claim rests on besides the pieces: the comparisons with their chance values, the controls, recovery. */
export function Basis({ study }: { study: string }) {
  const standing = useQuery(standingQuery(study));
  const read = useQuery(runsQuery(study));
  const runs = read.data?.runs;
  if (standing.error && !standing.data) {
    return <Failed error={standing.error} again={() => void standing.refetch()} />;
  }
  if (!standing.data) return <Waiting what="the comparison" />;
  const { claim } = standing.data;
  const spiked = runs?.filter((run) => run.kind === 'spiked-run');
  return (
    <>
      <Section
        title="Tests of the difference"
        lead="How often chance alone would give a difference at least this large, if the product shed nothing."
      >
        {claim.tests.length === 0 ? (
          <p>No test can be made yet: a specimen run and a matching control, both counted, are needed.</p>
        ) : (
          <ul className="tests">
            {claim.tests.map((test) => (
              <li key={test.name}>
                <span className="test-name">
                  {TEST_WORDS[test.name] ?? test.name}
                  {test.primary === true ? <small className="decides">decides</small> : null}
                  {typeof test.says === 'string' ? <small className="says">{test.says}</small> : null}
                </span>
                <span className="test-p">{test.p === null ? 'not computed' : chanceWords(test.p)}</span>
              </li>
            ))}
          </ul>
        )}
      </Section>
      <Section
        title="Controls"
        lead="Each kind isolates one way in which a particle can come onto the filter."
      >
        {runs ? <ControlKinds runs={runs} /> : <NotYet query={read} what="the controls" />}
      </Section>
      <Section title="Recovery" lead="Of known pieces put in, how many came back.">
        {spiked === undefined ? (
          <NotYet query={read} what="the spiked runs" />
        ) : spiked.length === 0 ? (
          <p className="reading">
            Not measured. Put a counted number of coloured pieces into a run of its own, carry it through
            every step and count them at the end: what does not come back from it does not come back from your
            runs either.
          </p>
        ) : (
          <ul className="tests">
            {spiked.map((run) => (
              <li key={run.id}>
                <span className="test-name">{run.name}</span>
                <span className="test-p">
                  {run.recovered !== null && run.added !== null
                    ? `${figure(run.recovered)} of ${figure(run.added)} back, ${percent(run.recovered / run.added)}`
                    : 'not looked yet'}
                </span>
              </li>
            ))}
          </ul>
        )}
      </Section>
    </>
  );
}

/** Each kind of control with its counts; a kind that was never made says so. */
function ControlKinds({ runs }: { runs: readonly RunJson[] }) {
  const kinds = Object.keys(KIND_WORDS).filter(
    (kind) => kind !== 'specimen-run',
  ) as (keyof typeof KIND_WORDS)[];
  return (
    <ul className="controls">
      {kinds.map((kind) => {
        const own = runs.filter((run) => run.kind === kind);
        return (
          <li key={kind} className={own.length === 0 ? 'is-missing' : undefined}>
            <span className="control-name">{KIND_WORDS[kind]}</span>
            <span className="control-shows">{KIND_SHOWS[kind]}</span>
            <span className="control-count">
              {own.length === 0
                ? 'none made'
                : `${manyOf(own.length, kind)}: ${own.map((run) => countWords(run.count)).join(', ')}`}
            </span>
          </li>
        );
      })}
    </ul>
  );
}

/** A chance value as people say it, with the figure. */
export function chanceWords(p: number): string {
  if (p < 0.0001) return 'p below 0.0001';
  const oneIn = Math.round(1 / p);
  return p <= 0.2 ? `p = ${figure(p)}, one time in ${figure(oneIn)}` : `p = ${figure(p)}`;
}
