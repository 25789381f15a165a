import type { ClaimDetailsJson, ComparisonJson } from '../../api/index.ts';
import { Section } from '../look/parts.tsx';
import { unbroken } from '../look/words.ts';
import { WhereFrom } from './where-from.tsx';

const FORMULA: { readonly [K in ComparisonJson['kind']]: string } = {
  ratio:
    'Ratios R at which the first net less R times the second has a limit of nought, limits of differences joined from the limits of their parts.',
  pairs:
    'Mean difference of the two within a session, with Student’s interval; p by changing the signs of the differences.',
  dose: 'Slope of particles over pieces of product, least squares with Poisson weights widened by the scatter about the line; p by handing the doses out anew.',
  several: 'Each p times the number of questions not yet settled, smallest first (Holm).',
};

/** Other questions that the records of this study can answer too. */
export function OtherQuestions({ details: { study, comparisons } }: { details: ClaimDetailsJson }) {
  if (comparisons.length === 0) return null;
  return (
    <Section
      title="Other questions these records answer"
      lead="Two products, pairs within a session, a series of doses: worked out where the runs allow it."
    >
      <ul className="other-questions">
        {comparisons.map((one) => (
          <li key={`${one.kind} ${one.title}`}>
            <h3>{one.title}</h3>
            <p>{unbroken(one.sentence)}</p>
            <WhereFrom
              study={study}
              formula={`${FORMULA[one.kind]}${one.unit === '' ? '' : ` In ${one.unit}.`}`}
              source={`${one.source}.`}
              method="counting-model"
            />
          </li>
        ))}
      </ul>
    </Section>
  );
}
