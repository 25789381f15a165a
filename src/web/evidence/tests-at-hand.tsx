import { useState } from 'react';
import type { EvidenceAnswer } from '../../api/index.ts';
import { BENCH_TESTS, type BenchTest } from '../../bench/index.ts';
import { Section } from '../look/parts.tsx';
import { lengthWords } from '../look/words.ts';
import { DrawSubset } from './subsets.tsx';
import { TestSketch } from './test-sketch.tsx';

const RATES = {
  drill: 'by your own drill',
  published: 'by published rates, until you drill',
} as const;

/** The bench tests, each with what a dozen pieces more would tell; the most telling first. */
export function TestsAtHand({ study, evidence }: { study: string; evidence: EvidenceAnswer }) {
  const [open, setOpen] = useState<string | null>(null);
  const worth = new Map(evidence.worth.map((one) => [one.test, one]));
  const tests = [...BENCH_TESTS].sort(
    (a, b) => (worth.get(a.id)?.after ?? 1) - (worth.get(b.id)?.after ?? 1),
  );
  return (
    <Section
      title="Tests at hand"
      lead="The bar is how uncertain the share of plastic is today; the filled part is what stays uncertain, on average, after a dozen pieces more."
    >
      <ul className="tests-at-hand">
        {tests.map((test) => {
          const told = worth.get(test.id);
          const shown = open === test.id;
          return (
            <li key={test.id} className={shown ? 'is-open' : undefined}>
              <button
                type="button"
                className="test-card"
                aria-expanded={shown}
                onClick={() => setOpen(shown ? null : test.id)}
              >
                <TestSketch test={test.id} />
                <span className="test-card-name">{test.name}</span>
                <span className="test-card-asks">{test.asks}</span>
                {told ? <Worth told={told} /> : null}
              </button>
              {shown ? <TestFacts study={study} test={test} evidence={evidence} /> : null}
            </li>
          );
        })}
      </ul>
    </Section>
  );
}

function Worth({ told }: { told: EvidenceAnswer['worth'][number] }) {
  if (told.rates_from === 'nothing') {
    return <span className="worth is-unknown">Its errors are not known here: drill it first.</span>;
  }
  return (
    <span className="worth">
      <span className="worth-bar" aria-hidden="true">
        <span style={{ inlineSize: `${Math.min(100, (100 * told.after) / Math.max(told.now, 1e-9))}%` }} />
      </span>
      <span>
        ± {Math.round(100 * told.now)} % → ± {Math.round(100 * told.after)} %
        <small> {RATES[told.rates_from]}</small>
      </span>
    </span>
  );
}

function TestFacts({ study, test, evidence }: { study: string; test: BenchTest; evidence: EvidenceAnswer }) {
  const { holds } = test;
  return (
    <div className="test-facts">
      <dl className="plain-facts">
        <div>
          <dt>Needs</dt>
          <dd>{test.needs}</dd>
        </div>
        <div>
          <dt>Holds for</dt>
          <dd>
            pieces from {lengthWords(holds.fromUm.fragment)}
            {holds.fromUm.fibre ? `, fibres from ${lengthWords(holds.fromUm.fibre)}` : ''}
            {holds.toUm === null ? '' : `, up to ${lengthWords(holds.toUm)}`}; outside it counts as not tested
          </dd>
        </div>
        {holds.notOn.length > 0 ? (
          <div>
            <dt>Not on</dt>
            <dd>{holds.notOn.map((one) => one.because).join('; ')}</dd>
          </div>
        ) : null}
        <div>
          <dt>Blind spots</dt>
          <dd>{test.blindSpots}</dd>
        </div>
        <div>
          <dt>The piece</dt>
          <dd>
            {test.destroys
              ? 'is used up: photograph first, nothing can be tested after it'
              : 'stays and can be tested again'}
          </dd>
        </div>
        <div>
          <dt>Source</dt>
          <dd>{test.source}</dd>
        </div>
      </dl>
      <ul className="hazards">
        {test.hazards.map((hazard) => (
          <li key={hazard}>{hazard}</li>
        ))}
      </ul>
      <DrawSubset study={study} test={test} evidence={evidence} />
    </div>
  );
}
