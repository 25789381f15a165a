import { useCallback } from 'react';
import type { DesignPlanJson } from '../../api/index.ts';
import { figure, sightCurve } from '../../report/index.ts';
import { Drawing } from '../look/drawing.tsx';
import { Fact } from '../look/parts.tsx';
import { unbroken } from '../look/words.ts';

type Design = DesignPlanJson['designs'][number];

/** The answer: its sentence, the curve of chances, the ways to spend the hours, and what to do. */
export function PlanPicture({ plan, release }: { plan: DesignPlanJson; release: number }) {
  const chosen = plan.have ?? (plan.best === null ? null : plan.designs[plan.best]!);
  const draw = useCallback(
    (width: number) =>
      plan.curve.length < 2
        ? ''
        : sightCurve({
            curve: plan.curve,
            release,
            smallest80: chosen?.smallest_80_per_gram ?? null,
            smallest95: chosen?.smallest_95_per_gram ?? null,
            width,
            name: 'sight',
          }),
    [plan, release, chosen],
  );
  return (
    <>
      <p className="plan-sentence" aria-live="polite">
        {unbroken(plan.sentence)}
      </p>
      {chosen ? <Chances of={chosen} /> : null}
      {plan.curve.length > 1 ? (
        <figure className="picture">
          <Drawing draw={draw} />
        </figure>
      ) : null}
      {plan.have === null && plan.designs.length > 1 ? <Designs plan={plan} /> : null}
      {plan.next.length > 0 ? (
        <>
          <h2>What to do</h2>
          <ul className="reasons">
            {plan.next.map((step) => (
              <li key={step}>{unbroken(step)}</li>
            ))}
          </ul>
        </>
      ) : null}
      {plan.because.length > 0 ? (
        <>
          <h2>Because</h2>
          <ul className="reasons">
            {plan.because.map((step) => (
              <li key={step}>{unbroken(step)}</li>
            ))}
          </ul>
        </>
      ) : null}
      <ul className="plan-cautions fine">
        {plan.cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
    </>
  );
}

/** A chance from some hundred virtual studies: the ends of the scale are not certainty. */
const chanceOf = (p: number) =>
  p > 0.985 ? 'over 98 %' : p < 0.015 ? 'under 2 %' : `${Math.round(100 * p)} %`;
const perGram = (n: number | null, none: string) => (n === null ? none : figure(Number(n.toPrecision(2))));

function Chances({ of }: { of: Design }) {
  return (
    <dl className="facts">
      {of.chance_above === null ? null : <Fact name="Chance to be seen" value={chanceOf(of.chance_above)} />}
      {of.chance_amount === null ? null : (
        <Fact name="Chance of an amount" value={chanceOf(of.chance_amount)} note="within a factor of 2" />
      )}
      <Fact
        name="Smallest release seen"
        value={perGram(of.smallest_80_per_gram, 'none')}
        note={
          of.smallest_80_per_gram === null
            ? 'so few runs cannot tell'
            : unbroken(`per gram, 80 % chance; ${perGram(of.smallest_95_per_gram, 'none')} with 95 %`)
        }
      />
      <Fact
        name="If nothing is released"
        value={of.limit_per_gram === null ? 'no claim' : `fewer than ${perGram(of.limit_per_gram, '')}`}
        note={of.limit_per_gram === null ? 'too few runs' : 'per gram'}
      />
    </dl>
  );
}

/** Ways to spend the hours, best first, as bars of chance. */
function Designs({ plan }: { plan: DesignPlanJson }) {
  return (
    <>
      <h2>Ways to spend the hours</h2>
      <table className="plan-designs">
        <thead>
          <tr>
            <th scope="col">Runs</th>
            <th scope="col">Controls</th>
            <th scope="col">Spiked</th>
            <th scope="col">Hours</th>
            <th scope="col">Seen</th>
            <th scope="col">Amount</th>
          </tr>
        </thead>
        <tbody>
          {plan.designs.map((design, k) => (
            <tr
              key={`${design.specimen_runs}-${design.controls}-${design.spiked_runs}`}
              className={k === plan.best ? 'is-best' : undefined}
            >
              <td>{design.specimen_runs}</td>
              <td>{design.controls}</td>
              <td>{design.spiked_runs}</td>
              <td>{figure(design.hours)}</td>
              <Chance of={design.chance_above} />
              <Chance of={design.chance_amount} />
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}

function Chance({ of }: { of: number | null }) {
  return (
    <td>
      {of === null ? (
        'not asked'
      ) : (
        <span className="chance">
          <meter min={0} max={1} value={of} aria-hidden="true" />
          {chanceOf(of)}
        </span>
      )}
    </td>
  );
}
