import { useCallback } from 'react';
import type { ClaimDetailsJson, RobustnessJson } from '../../api/index.ts';
import { figure, type Way, waysToJudge } from '../../report/index.ts';
import { Drawing } from '../look/drawing.tsx';
import { Section } from '../look/parts.tsx';
import { upper } from '../look/words.ts';
import { WhereFrom } from './where-from.tsx';

const TEST_WORDS: Readonly<Record<string, string>> = {
  'conditional-exact': 'the exact conditional test',
  permutation: 'relabelling the runs',
  'joint-model': 'the joint model',
  'e-test': 'the E-test',
};
const choiceOf = (row: Row): string => `${row.what}: ${TEST_WORDS[row.choice] ?? row.choice}`;

type Row = RobustnessJson['base'];

const wayOf = (row: Row, base: boolean): Way[] =>
  row.net_per_gram === null || row.above === null
    ? []
    : [
        {
          label: base ? 'as claimed' : choiceOf(row),
          value: row.net_per_gram.value,
          lower: row.net_per_gram.lower,
          upper: row.net_per_gram.upper,
          above: row.above,
          agrees: row.agrees,
          base,
        },
      ];

/** The claim under every defensible choice: what share agrees, and which choices do not. */
export function OtherWays({ details }: { details: ClaimDetailsJson }) {
  const { robustness, study } = details;
  const draw = useCallback(
    (width: number) =>
      waysToJudge({
        ways: [...wayOf(robustness.base, true), ...robustness.rows.flatMap((row) => wayOf(row, false))],
        unit: 'particles per gram',
        width,
        name: 'other-ways',
      }),
    [robustness],
  );
  const differ = robustness.rows.filter((row) => row.above !== null && !row.agrees);
  const refused = robustness.rows.filter((row) => row.refusal !== null);
  if (robustness.base.above === null) {
    return (
      <Section title="Judged in other ways">
        <p>{robustness.base.refusal ?? 'Nothing can be judged yet.'}</p>
      </Section>
    );
  }
  return (
    <Section
      title="Judged in other ways"
      lead={
        <>
          {robustness.agreeing} of {robustness.judged} defensible ways to judge these runs read as the claim
          does
          {robustness.lowest_per_gram !== null && robustness.highest_per_gram !== null
            ? `; the net lies between ${figure(robustness.lowest_per_gram)} and ${figure(robustness.highest_per_gram)} per gram.`
            : '.'}
        </>
      }
    >
      <figure className="picture">
        <Drawing draw={draw} />
        <figcaption>
          <span className="key">
            <i className="dot specimen" /> above the background
          </span>
          <span className="key">
            <i className="dot" /> not above
          </span>
          <span className="key">
            <i className="dot differs" /> reads otherwise than the claim
          </span>
        </figcaption>
      </figure>
      {differ.length > 0 ? (
        <>
          <h3>The claim would read otherwise</h3>
          <ul className="reasons">
            {differ.map((row) => (
              <li key={`${row.what} ${row.choice}`}>
                {upper(choiceOf(row))}. It then stands {row.above ? 'above' : 'not above'} the background.
              </li>
            ))}
          </ul>
        </>
      ) : null}
      {refused.length > 0 ? (
        <p className="fine">
          {refused.length} more cannot be judged: {refused[0]!.refusal}
        </p>
      ) : null}
      <WhereFrom
        study={study}
        formula="The same counts judged again under each choice: another test, each run left out once, undecided pieces out, other controls, larger pieces only, no correction for losses."
        source="Practice of specification curves: Simonsohn, Simmons & Nelson 2020, Nat. Hum. Behav. 4:1208."
        method="counting-model"
        deceives="it is read as a probability: the choices are neither drawn at random nor equally good, and share their data."
      >
        <table className="ways-table">
          <thead>
            <tr>
              <th scope="col">Choice</th>
              <th scope="col">Reads</th>
              <th scope="col">Net per gram</th>
            </tr>
          </thead>
          <tbody>
            {robustness.rows.map((row) => (
              <tr key={`${row.what} ${row.choice}`} className={row.agrees ? undefined : 'differs'}>
                <th scope="row">{upper(choiceOf(row))}</th>
                <td>{row.above === null ? 'cannot be judged' : row.above ? 'above' : 'not above'}</td>
                <td>
                  {row.net_per_gram
                    ? `${figure(row.net_per_gram.value)} (${figure(row.net_per_gram.lower)} to ${figure(row.net_per_gram.upper)})`
                    : 'not stated'}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </WhereFrom>
    </Section>
  );
}
