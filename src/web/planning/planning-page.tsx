import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import { pathTo } from '../app/where.ts';
import { PlaceHead, Section, Waiting } from '../look/parts.tsx';
import { MethodLink } from '../methods/method-link.tsx';
import { ask, type Body } from '../server/ask.ts';
import { heard, standingQuery } from '../server/queries.ts';
import { type Guess, guessFrom } from './from-study.ts';
import { PlanPicture } from './plan-picture.tsx';
import { Slide } from './slide.tsx';

/** How long a slider rests before the plan is worked out anew. */
const REST_MS = 350;

type Way = 'hours' | 'have';

const wishOf = (guess: Guess, way: Way, aim: 'above' | 'amount'): Body<'planDesign'> => ({
  aim,
  background_per_run: guess.background,
  release_per_gram: guess.release,
  scatter: guess.scatter / 100,
  portion_g: guess.portion,
  recovery: guess.recovery / 100,
  passed: guess.looked / 100,
  hours_per_specimen_run: guess.perRun,
  hours_per_control: guess.perControl,
  hours_per_spiked_run: guess.perSpike,
  ...(way === 'hours'
    ? { hours_available: guess.hours }
    : { specimen_runs: guess.runs, controls: guess.controls, spiked_runs: guess.spikes }),
});

function useRested<T>(value: T): T {
  const [rested, setRested] = useState(value);
  useEffect(() => {
    const timer = setTimeout(() => setRested(value), REST_MS);
    return () => clearTimeout(timer);
  }, [value]);
  return rested;
}

/** Planning on virtual studies: what a design can find, worked out as the sliders are moved. */
export function PlanningPage({ study }: { study: string }) {
  const standing = useQuery(standingQuery(study));
  if (!standing.data && !standing.error) return <Waiting what="what is known so far" />;
  const first = guessFrom(standing.data);
  return <Planning key={study} study={study} first={first} counted={standing.data?.claim.joint !== null} />;
}

function Planning({ study, first, counted }: { study: string; first: Guess; counted: boolean }) {
  const [guess, setGuess] = useState(first);
  const [way, setWay] = useState<Way>('hours');
  const [aim, setAim] = useState<'above' | 'amount'>('amount');
  const wish = useRested(wishOf(guess, way, aim));
  const key = JSON.stringify(wish);
  const plan = useQuery({
    queryKey: ['plan-design', key],
    queryFn: () => heard(ask('planDesign', {}, wish)),
    placeholderData: keepPreviousData,
    staleTime: Number.POSITIVE_INFINITY,
  });
  const put = (field: keyof Guess) => (value: number) => setGuess({ ...guess, [field]: value });
  const slide = (
    field: keyof Guess,
    label: string,
    unit: string,
    stops: readonly number[],
    hint?: string,
  ) => (
    <Slide
      label={label}
      unit={unit}
      stops={stops}
      value={guess[field]}
      set={put(field)}
      {...(hint ? { hint } : {})}
    />
  );
  return (
    <div className="page planning-page">
      <PlaceHead
        title="Plan the runs"
        lead="What a design can find, tried on hundreds of virtual studies. Move a slider and see."
      >
        <MethodLink name="planning" />
      </PlaceHead>
      <div className="plan-asks">
        <fieldset className="choose-specimen">
          <legend>I want to know</legend>
          <Pick on={way === 'hours'} set={() => setWay('hours')}>
            how to spend my hours
          </Pick>
          <Pick on={way === 'have'} set={() => setWay('have')}>
            what my runs can tell
          </Pick>
        </fieldset>
        <fieldset className="choose-specimen">
          <legend>The answer shall be</legend>
          <Pick on={aim === 'amount'} set={() => setAim('amount')}>
            an amount
          </Pick>
          <Pick on={aim === 'above'} set={() => setAim('above')}>
            a yes or no
          </Pick>
        </fieldset>
      </div>
      <div className="plan-body">
        <div className="plan-sliders">
          <Section title="What I expect">
            {slide(
              'background',
              'Background',
              'on a control',
              [0, 0.5, 1, 2, 3, 4, 5, 7, 10, 15, 20, 30, 50, 100],
            )}
            {slide(
              'scatter',
              'Scatter between runs',
              '%',
              [0, 10, 20, 30, 40, 50, 60, 80, 100, 120, 150],
              '0 is the best case; 100 % is strong',
            )}
            {slide(
              'release',
              'Release',
              'per gram',
              [0.05, 0.1, 0.2, 0.5, 1, 2, 3, 5, 7, 10, 15, 20, 30, 50, 100, 200, 500],
            )}
            {slide('portion', 'Portion', 'g', [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200])}
            {slide('recovery', 'Recovery', '%', [30, 40, 50, 60, 70, 80, 90, 100])}
            {slide(
              'looked',
              'Looked at, of a run',
              '%',
              [5, 10, 25, 50, 75, 90, 100],
              'passed through filters and photographed',
            )}
            <p className="fine">
              {counted
                ? 'Set from the runs of this study that were counted.'
                : 'Guesses, until the first blanks are counted. Try half and twice of each.'}
            </p>
          </Section>
          {way === 'hours' ? (
            <Section title="What it costs">
              {slide('hours', 'Hours there are', 'h', [20, 30, 40, 50, 60, 80, 100, 150, 200])}
              {slide('perRun', 'One specimen run', 'h', [0.5, 1, 1.5, 2, 3, 4, 6, 8])}
              {slide('perControl', 'One control', 'h', [0.5, 1, 1.5, 2, 2.5, 3, 4, 6, 8])}
              {slide('perSpike', 'One spiked run', 'h', [0.5, 1, 1.5, 2, 3, 4, 6, 8])}
            </Section>
          ) : (
            <Section title="What I have">
              {slide('runs', 'Specimen runs', 'runs', [1, 2, 3, 4, 5, 6, 8, 10, 12, 16, 20])}
              {slide('controls', 'Matching controls', 'runs', [0, 1, 2, 3, 4, 5, 6, 8, 10, 12, 16, 20])}
              {slide('spikes', 'Spiked runs', 'runs', [0, 1, 2, 3, 4, 6, 8])}
            </Section>
          )}
        </div>
        <div className="plan-answer" aria-busy={plan.isFetching}>
          <p className="plan-working" role="status">
            {plan.isFetching && plan.data ? 'Trying it on virtual studies …' : ''}
          </p>
          {plan.error ? (
            <p className="sheet-problem" role="alert">
              {plan.error.message}
            </p>
          ) : null}
          {plan.data ? (
            <PlanPicture plan={plan.data} release={guess.release} />
          ) : plan.error ? null : (
            <p className="waiting" role="status">
              Trying it on virtual studies …
            </p>
          )}
        </div>
      </div>
      <p>
        <a href={pathTo({ page: 'question', study, item: null })}>Back to the question</a>
      </p>
    </div>
  );
}

function Pick({ on, set, children }: { on: boolean; set: () => void; children: string }) {
  return (
    <button type="button" className={on ? 'button primary' : 'button'} aria-pressed={on} onClick={set}>
      {children}
    </button>
  );
}
