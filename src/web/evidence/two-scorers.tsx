/** How far two people agree: on the calls of one another's pictures, or on which pieces a field holds. */
import { useCallback } from 'react';
import type { OutcomeJson, RoundJson } from '../../api/index.ts';
import { figure, percent, type RateLine, rateBars } from '../../report/index.ts';
import { wilsonInterval } from '../../science/counting/index.ts';
import { Drawing } from '../look/drawing.tsx';
import { Fact, Section } from '../look/parts.tsx';
import { many } from '../look/words.ts';
import { CALL_WORDS } from './drill-run.tsx';

const CALLS = ['plastic', 'other', 'cannot-tell'] as const;
type Span = { value: number; lower: number; upper: number };
const span = (of: Span): string =>
  `${of.value.toFixed(2)} (${of.lower.toFixed(2)} to ${of.upper.toFixed(2)})`;

export function TwoScorers({
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
        rate: pictures === 0 ? null : wilsonInterval(same, pictures, 0.95),
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

export function TwoFinders({
  round,
  fields,
}: {
  round: RoundJson;
  fields: NonNullable<OutcomeJson['fields']>;
}) {
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
