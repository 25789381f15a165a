import type { ReactNode } from 'react';
import type { ClaimJson } from '../../api/index.ts';
import { figure, percent } from '../../report/index.ts';
import { many } from '../look/words.ts';
import { type Rule, readBackground, readRules, readThresholds, type Span } from '../stands/reading-claim.ts';

type Row = readonly [name: string, value: ReactNode];

/** Rows of a small table of figures; one that is not stated says so. */
function Rows({ rows }: { rows: readonly Row[] }) {
  return (
    <dl className="plain-facts">
      {rows.map(([name, value]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{value ?? 'not stated'}</dd>
        </div>
      ))}
    </dl>
  );
}

const spanWords = (span: Span | null, write: (n: number) => string = figure): string | null =>
  span && `${write(span.value)} (${write(span.lower)} to ${write(span.upper)})`;
const orNull = (value: number | null, write: (n: number) => string = figure) => value && write(value);

const particles = (n: number) => `${figure(n)} ${n === 1 ? 'particle' : 'particles'}`;
const perGram = (n: number) => `${figure(n)} particles per gram`;

export function BackgroundFacts({ claim }: { claim: ClaimJson }) {
  const b = readBackground(claim);
  if (b.perRun === null) return <p>Not known: no control that was counted speaks for these runs.</p>;
  return (
    <Rows
      rows={[
        ['Controls', b.runs === null ? null : many(b.runs, 'run')],
        ['Counted on them', b.count === null ? null : particles(b.count)],
        ['For one run', spanWords(b.perRun)],
        ['Expected on the specimen runs', spanWords(b.onSpecimens)],
        ['Recovery', spanWords(b.recovery, percent) ?? 'not measured'],
      ]}
    />
  );
}

export function ThresholdFacts({ claim }: { claim: ClaimJson }) {
  const t = readThresholds(claim);
  if (t.countIfPoisson === null) return <p>Not known before runs and controls are counted.</p>;
  return (
    <Rows
      rows={[
        [
          'Runs stand out from a total of',
          t.count === null ? 'no single count: the joint model decides' : particles(t.count),
        ],
        ...(t.perRun === null ? [] : [['That is, for one run', particles(t.perRun)] as const]),
        ['If runs scattered no more than Poisson', particles(t.countIfPoisson)],
        ['Net per gram that stands out then', orNull(t.perGram, perGram)],
        ['Net per gram that would then be found', orNull(t.detectablePerGram, perGram)],
      ]}
    />
  );
}

/** Other published rules: what each reads from the same counts, and when it deceives. */
export function Rules({ claim }: { claim: ClaimJson }) {
  const rules = readRules(claim);
  if (rules.length === 0) return <p>None can be worked out before runs and controls are counted.</p>;
  return (
    <ul className="tests">
      {rules.map((rule) => (
        <li key={rule.name}>
          <span className="test-name">
            <span className="rule-name">{rule.name}</span>
            {rule.source ? <small className="says">{rule.source}</small> : null}
          </span>
          <span className="test-p">
            {reading(rule)}
            {rule.deceives ? <small className="says">Deceives: {rule.deceives}.</small> : null}
          </span>
        </li>
      ))}
    </ul>
  );
}

function reading({ reads, value, threshold, agrees }: Rule): string {
  const compared =
    value === null
      ? ''
      : threshold === null
        ? `, ${figure(value)} a run`
        : `, ${figure(value)} against ${figure(threshold)} a run`;
  const agreement = agrees === null ? '' : agrees ? '; agrees with this claim' : '; does not agree';
  return `${reads ?? 'cannot say'}${compared}${agreement}`;
}
