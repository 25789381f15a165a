import type { ClaimJson } from '../../api/index.ts';
import { IDENTIFIED_WORDS, LADDER, STATE_WORDS } from '../look/words.ts';

/** The states a claim can have, from silence to a figure, with the one that the evidence allows today. */
export function Ladder({ claim }: { claim: ClaimJson }) {
  const at = LADDER.indexOf(claim.state);
  return (
    <ol className="ladder" aria-label="What the evidence allows to be said">
      {LADDER.map((state, k) => (
        <li
          key={state}
          className={k === at ? 'is-now' : k < at ? 'is-passed' : undefined}
          aria-current={k === at ? 'step' : undefined}
        >
          <span>{STATE_WORDS[state]}</span>
          {k === at && state === 'quantified' ? (
            <small>
              {IDENTIFIED_WORDS[claim.identified_by]}
              {claim.attributed ? ', attributed to the product' : ', not attributed to the product'}
            </small>
          ) : null}
        </li>
      ))}
    </ol>
  );
}
