import { useCallback } from 'react';
import type { OutcomeJson, RoundJson } from '../../api/index.ts';
import { figure, percent, type RateLine, rateBars } from '../../report/index.ts';
import { Drawing } from '../look/drawing.tsx';
import { Fact, Section } from '../look/parts.tsx';
import { many, upper } from '../look/words.ts';
import { chanceWords } from './basis.tsx';
import { CALL_WORDS } from './drill-run.tsx';

const CALLS = ['plastic', 'other', 'cannot-tell'] as const;
type Span = { value: number; lower: number; upper: number };
const span = (of: Span): string =>
  `${of.value.toFixed(2)} (${of.lower.toFixed(2)} to ${of.upper.toFixed(2)})`;

/** What the opened key shows: what the pictures were taken for, how far two people agree, whether the blind held. */
export function Agreement({ round, outcome }: { round: RoundJson; outcome: OutcomeJson }) {
  return (
    <>
      {round.what === 'pieces' ? <Resolved outcome={outcome} /> : null}
      {outcome.agreement ? <TwoScorers round={round} agreement={outcome.agreement} /> : null}
      {outcome.fields ? <TwoFinders round={round} fields={outcome.fields} /> : null}
      <Blind outcome={outcome} />
      <Known outcome={outcome} />
      {outcome.populations ? <Populations populations={outcome.populations} /> : null}
      <Key round={round} outcome={outcome} />
    </>
  );
}

function Resolved({ outcome }: { outcome: OutcomeJson }) {
  return (
    <Section title="What the pictures were taken for">
      <ul className="resolved">
        {outcome.resolved.map(({ side, plastic, other, undecided }) => {
          const all = plastic + other + undecided;
          const wide = (n: number) => ({ flexGrow: n });
          return (
            <li key={side}>
              <span className="row-name">{side === 'specimen' ? 'Runs on the product' : 'Controls'}</span>
              <span className="resolved-bar" aria-hidden="true">
                {plastic > 0 ? <span className="is-plastic" style={wide(plastic)} /> : null}
                {undecided > 0 ? <span className="is-undecided" style={wide(undecided)} /> : null}
                {other > 0 ? <span className="is-other" style={wide(other)} /> : null}
              </span>
              <span>
                {plastic} plastic{undecided > 0 ? `, ${undecided} undecided` : ''}, {other} not, of {all}
              </span>
            </li>
          );
        })}
      </ul>
    </Section>
  );
}

function TwoScorers({
  round,
  agreement,
}: {
  round: RoundJson;
  agreement: NonNullable<OutcomeJson['agreement']>;
}) {
  const [first, second] = round.scorers.map((one) => one.name);
  const draw = useCallback(
    (width: number) => {
      const line = ({
        name,
        pictures,
        same,
      }: {
        name: string;
        pictures: number;
        same: number;
      }): RateLine => ({
        name,
        rate: pictures === 0 ? null : wilson(same, pictures),
        says: pictures === 0 ? 'none' : `${same} of ${pictures}`,
        wants: 'high',
      });
      return rateBars(
        [
          line({ name: 'all pictures', pictures: agreement.pictures, same: agreement.same }),
          ...agreement.by_class.map((one) =>
            line({ ...one, name: `both “${CALL_WORDS[one.name as 'plastic'].toLowerCase()}”` }),
          ),
          ...agreement.by_size.map(line),
          ...agreement.by_shape.map(line),
        ],
        width,
        'Agreement',
      );
    },
    [agreement],
  );
  const { found, kappa, robust } = agreement;
  const seen = found.first + found.second - found.both;
  return (
    <Section
      title="How far the two agree"
      lead="The dots are shares of pictures on which both said the same, by what they said, by size and by shape."
    >
      <dl className="facts">
        <Fact
          name="Same call"
          value={percent(agreement.same / agreement.pictures)}
          note={`${agreement.same} of ${many(agreement.pictures, 'picture')}`}
        />
        <Fact
          name="Kappa"
          value={kappa ? kappa.value.toFixed(2) : 'not defined'}
          note={
            kappa
              ? `${kappa.lower.toFixed(2)} to ${kappa.upper.toFixed(2)}, ${kappa.word}`
              : 'both used one call only'
          }
        />
        <Fact
          name="AC1, where one call is rare"
          value={robust ? robust.value.toFixed(2) : 'not defined'}
          note={robust ? `${robust.lower.toFixed(2)} to ${robust.upper.toFixed(2)}` : ''}
        />
        <Fact
          name="Plastic by anybody"
          value={figure(seen)}
          note={`${found.both} by both; about ${figure(Math.round(found.estimate.value))} if they saw independently`}
        />
      </dl>
      <Drawing draw={draw} />
      <CallTable table={agreement.table} first={first ?? ''} second={second ?? ''} />
      <p className="fine">
        The number “if they saw independently” is Chapman’s. Two people miss the same faint pieces: read it as
        a lower bound.
      </p>
    </Section>
  );
}

function wilson(k: number, n: number): Span {
  const z = 1.96;
  const middle = (k + (z * z) / 2) / (n + z * z);
  const half = (z / (n + z * z)) * Math.sqrt((k * (n - k)) / n + (z * z) / 4);
  return { value: k / n, lower: Math.max(0, middle - half), upper: Math.min(1, middle + half) };
}

function CallTable({
  table,
  first,
  second,
}: {
  table: readonly (readonly number[])[];
  first: string;
  second: string;
}) {
  return (
    <table className="call-table">
      <caption>
        Rows: {first}. Columns: {second}.
      </caption>
      <thead>
        <tr>
          <td />
          {CALLS.map((call) => (
            <th key={call} scope="col">
              {CALL_WORDS[call]}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {CALLS.map((call, i) => (
          <tr key={call}>
            <th scope="row">{CALL_WORDS[call]}</th>
            {CALLS.map((other, j) => (
              <td key={other} className={i === j ? 'is-same' : undefined}>
                {table[i]?.[j] ?? 0}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function TwoFinders({ round, fields }: { round: RoundJson; fields: NonNullable<OutcomeJson['fields']> }) {
  const [first, second] = round.scorers.map((one) => one.name);
  return (
    <Section title="Who found which pieces" lead="Marks of the two on the same field, matched by place.">
      <dl className="facts">
        <Fact name={first ?? 'first'} value={figure(fields.first)} note="pieces found" />
        <Fact name={second ?? 'second'} value={figure(fields.second)} note="pieces found" />
        <Fact
          name="Both"
          value={figure(fields.both)}
          note={
            fields.overlap === null
              ? 'none found by anybody'
              : `${percent(fields.overlap)} of all that anybody found`
          }
        />
        <Fact
          name="Missed by both"
          value={`about ${figure(Math.round(fields.missed_by_both))}`}
          note={`${figure(Math.round(fields.estimate.value))} in all (${figure(Math.round(fields.estimate.lower))} to ${figure(Math.round(fields.estimate.upper))})`}
        />
      </dl>
      {fields.sizes ? (
        <p>
          On {many(fields.sizes.pairs, 'piece')} that both measured, {first} reads{' '}
          {fields.sizes.ratio.toFixed(2)} times as long as {second}; 95 % of pairs lie between{' '}
          {fields.sizes.lower.toFixed(2)} and {fields.sizes.upper.toFixed(2)} times.
        </p>
      ) : null}
      <p className="fine">
        Chapman’s estimate: it holds when the two looked independently and every piece is as easy to find as
        the next. Both miss the same faint pieces, so it is a lower bound.
        {fields.robust
          ? ` On pieces that both found, their calls agree with AC1 ${span(fields.robust)}.`
          : ''}
      </p>
    </Section>
  );
}

function Blind({ outcome }: { outcome: OutcomeJson }) {
  return (
    <Section
      title="Did the blind hold?"
      lead="Where somebody guessed specimen or control, and how often chance alone would be as right."
    >
      <ul className="tests">
        {outcome.scorers.map(({ person, name, leak, repeats }) => (
          <li key={person}>
            <span className="test-name">
              {name}
              <small className={leak.leaked ? 'says warned' : 'says'}>
                {leak.guessed === 0
                  ? 'No guesses were asked for, so nothing is known.'
                  : leak.leaked
                    ? 'Can tell specimen pictures from control pictures: the blind leaked, and these readings are not blind.'
                    : 'No sign that the pictures told where they are from.'}
              </small>
              {repeats.pictures > 0 ? (
                <small className="says">
                  Said the same on {repeats.same} of {repeats.pictures} pictures shown twice.
                </small>
              ) : null}
            </span>
            <span className="test-p">
              {leak.guessed === 0 ? '–' : `${leak.right} of ${leak.guessed} right, ${chanceWords(leak.p)}`}
            </span>
          </li>
        ))}
      </ul>
    </Section>
  );
}

function Known({ outcome }: { outcome: OutcomeJson }) {
  const some = outcome.scorers.filter((one) => one.known_plastic.n + one.known_others.n > 0);
  if (some.length === 0) return null;
  return (
    <Section
      title="Known pieces that were slipped in"
      lead="Nobody knew which they were; they are answers of the drill now."
    >
      <ul className="tests">
        {some.map(({ person, name, known_plastic, known_others }) => (
          <li key={person}>
            <span className="test-name">{name}</span>
            <span className="test-p">
              {known_plastic.k} of {known_plastic.n} plastics called plastic, {known_others.k} of{' '}
              {known_others.n} look-alikes
            </span>
          </li>
        ))}
      </ul>
    </Section>
  );
}

function Populations({ populations }: { populations: NonNullable<OutcomeJson['populations']> }) {
  return (
    <Section
      title="Are the product’s pieces of another kind?"
      lead="How far the pieces taken for plastic differ between runs and controls, and how often handing the runs’ labels out anew gives as much."
    >
      <ul className="tests">
        {populations.map((one) => (
          <li key={one.what}>
            <span className="test-name">
              {upper(one.what)}
              <small className="says">
                {one.adjusted <= 0.05
                  ? 'differs more than relabelling gives.'
                  : 'no more different than relabelling gives.'}{' '}
                Looked at three ways: {chanceWords(one.adjusted)} after Holm.
              </small>
            </span>
            <span className="test-p">
              distance {one.distance.toFixed(2)}, {chanceWords(one.p)}
            </span>
          </li>
        ))}
      </ul>
    </Section>
  );
}

const SIDE_WORDS = { specimen: 'product', control: 'control', known: 'known piece' } as const;

function Key({ round, outcome }: { round: RoundJson; outcome: OutcomeJson }) {
  const people = [...round.scorers, ...(round.third ? [round.third] : [])];
  return (
    <Section title="The key">
      <details>
        <summary>All {outcome.key.length} codes</summary>
        <table className="runs-table key-table">
          <thead>
            <tr>
              <th scope="col">Code</th>
              <th scope="col">From</th>
              {people.map((one) => (
                <th scope="col" key={one.person}>
                  {one.name}
                </th>
              ))}
              <th scope="col">Taken for</th>
            </tr>
          </thead>
          <tbody>
            {outcome.key.map((card) => (
              <tr key={card.code}>
                <th scope="row">{card.code}</th>
                <td data-name="From">
                  {card.piece ?? `${card.run}${card.particle === null ? '' : `, ${card.particle}`}`}{' '}
                  <small>{SIDE_WORDS[card.side]}</small>
                </td>
                {card.calls.map((call, at) => (
                  <td key={people[at]?.person ?? at} data-name={people[at]?.name}>
                    {call === null ? '–' : CALL_WORDS[call]}
                  </td>
                ))}
                <td data-name="Taken for">{card.side === 'known' ? '–' : (card.taken_for ?? '–')}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    </Section>
  );
}
