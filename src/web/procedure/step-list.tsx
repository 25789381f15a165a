import type { StepJson, StepKindsAnswer } from '../../api/index.ts';
import { amountWords, cautionsOf } from '../../study/index.ts';
import { many } from '../look/words.ts';
import { asStep } from './as-step.ts';
import { StepPicture } from './step-picture.tsx';

type Kinds = StepKindsAnswer['kinds'];

export const TOUCH_WORDS: { readonly [T in keyof StepJson['touches']]: string } = {
  vessel: 'in',
  tool: 'with',
  liquid: 'liquid',
  reagent_lot: 'lot',
  place: 'at',
  person: 'by',
  filter_lot: 'filter lot',
  optics: 'through',
};

export const saysOf = (kinds: Kinds, kind: string): string =>
  kinds.find((known) => known.kind === kind)?.says ?? kind;

/** What is the same in most steps is said once above the list, so that what differs stands out. */
export function shared(steps: readonly StepJson[], what: 'place' | 'person'): string | null {
  const values = new Set(steps.flatMap((step) => step.touches[what] ?? []));
  return values.size === 1 ? [...values][0]! : null;
}

/** The steps as they are done, one a line, to be read across the bench. */
export function StepList({ steps, kinds }: { steps: readonly StepJson[]; kinds: Kinds }) {
  const place = shared(steps, 'place');
  const person = shared(steps, 'person');
  return (
    <>
      {place || person ? (
        <p className="fine">
          {[place && `All at: ${place}`, person && `by ${person}`].filter(Boolean).join(', ')}.
        </p>
      ) : null}
      <ol className="steps">
        {steps.map((step) => (
          <li key={step.key} className="step">
            <StepPicture kind={step.kind} />
            <div>
              <h4>
                {saysOf(kinds, step.kind)}{' '}
                <span className="step-amounts">
                  {Object.entries(step.quantities)
                    .map(([name, amount]) => amountWords(name, amount))
                    .join(', ')}
                </span>
              </h4>
              <p className="step-touches">{touched(step, { place, person })}</p>
              {step.note ? <p className="step-note">{step.note}</p> : null}
              {cautionsOf(asStep(step))
                .filter((caution) => caution.grave)
                .map((caution) => (
                  <p key={caution.about} className="step-caution">
                    {caution.message}
                  </p>
                ))}
            </div>
          </li>
        ))}
      </ol>
    </>
  );
}

function touched(step: StepJson, { place, person }: { place: string | null; person: string | null }): string {
  const parts = (Object.keys(TOUCH_WORDS) as (keyof StepJson['touches'])[]).flatMap((what) => {
    const value = step.touches[what];
    if (value === null || value === undefined) return [];
    if ((what === 'place' && value === place) || (what === 'person' && value === person)) return [];
    return [`${TOUCH_WORDS[what]} ${value}`];
  });
  if (step.minutes_uncovered) parts.push(`${step.minutes_uncovered} min uncovered`);
  if (step.openings) parts.push(`opened ${many(step.openings, 'time')}`);
  return parts.join(' · ');
}
