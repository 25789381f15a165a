import type { OutcomeJson, RoundJson } from '../../api/index.ts';
import { Section } from '../look/parts.tsx';
import { upper } from '../look/words.ts';
import { chanceWords } from './basis.tsx';
import { CALL_WORDS } from './drill-run.tsx';
import { TwoFinders, TwoScorers } from './two-scorers.tsx';

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
