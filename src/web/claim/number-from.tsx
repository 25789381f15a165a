import type { ClaimJson } from '../../api/index.ts';
import { figure, percent } from '../../report/index.ts';
import { upper } from '../look/words.ts';
import { WhereFrom } from './where-from.tsx';

/** The net number opened: formula, what the joint model says beside it, and where its uncertainty comes from. */
export function NumberFrom({ study, claim }: { study: string; claim: ClaimJson }) {
  const { joint } = claim;
  if (claim.net_per_gram === null) return null;
  const span = (of: { value: number; lower: number; upper: number }) =>
    `${figure(of.value)} (${figure(of.lower)} to ${figure(of.upper)})`;
  return (
    <WhereFrom
      study={study}
      formula="Net per gram = (counted with the product − background per run × runs looked at) ÷ (recovery × grams looked at). What was looked at of a run = share passed × share photographed."
      source={
        joint
          ? 'Joint model: Garwood 1936; Fay, Proschan & Brittain 2015, Biometrics 71:146; Fisher 1935.'
          : 'Melded exact limits: Fay, Proschan & Brittain 2015, Biometrics 71:146.'
      }
      method="counting-model"
      deceives="controls did not go through the same steps, runs drift, or the background grows with the portion."
    >
      <dl className="plain-facts">
        {claim.net_per_portion ? (
          <div>
            <dt>Net per portion, one act</dt>
            <dd>{span(claim.net_per_portion)}</dd>
          </div>
        ) : null}
        {claim.net_per_piece ? (
          <div>
            <dt>Net per piece of product</dt>
            <dd>{span(claim.net_per_piece)}</dd>
          </div>
        ) : null}
        {joint ? (
          <>
            <div>
              <dt>Chance of being above the background, given these counts</dt>
              <dd>{percent(joint.probability_above)}</dd>
            </div>
            <div>
              <dt>Scatter between specimen runs, beyond counting</dt>
              <dd>{percent(joint.scatter.specimens.value)}</dd>
            </div>
            <div>
              <dt>Scatter between controls, beyond counting</dt>
              <dd>{percent(joint.scatter.controls.value)}</dd>
            </div>
          </>
        ) : null}
      </dl>
      {joint ? (
        <>
          <h3>Where its uncertainty comes from</h3>
          <ul className="variance">
            {[...joint.variance]
              .filter((part) => part.share >= 0.005)
              .sort((a, b) => b.share - a.share)
              .map((part) => (
                <li key={part.source}>
                  {upper(part.source)}: {percent(part.share)}
                </li>
              ))}
          </ul>
        </>
      ) : null}
    </WhereFrom>
  );
}
