import { cautionsOf, SAFETY_FIRST, type Step, type Stop } from '../../study/index.ts';

export function Stops({ stops }: { stops: readonly Stop[] }) {
  return stops.map(({ message }) => (
    <p key={message} className="bench-stop" role="alert">
      <strong>Stop.</strong> {message}
    </p>
  ));
}

/** What to mind at one step, and what it must not meet; the data sheet stands before all of it. */
export function SafetyHere({ step, stops }: { step: Step; stops: readonly Stop[] }) {
  const cautions = cautionsOf(step);
  const mine = stops.filter(({ steps }) => steps.includes(step.key));
  if (cautions.length === 0 && mine.length === 0) return null;
  return (
    <section className="bench-safety" aria-label="Mind at this step">
      <Stops stops={mine} />
      {cautions.length > 0 ? (
        <ul>
          {cautions.map(({ about, message }) => (
            <li key={about}>{message}</li>
          ))}
        </ul>
      ) : null}
      <small>{SAFETY_FIRST}</small>
    </section>
  );
}
