import { useQuery } from '@tanstack/react-query';
import { Section } from '../look/parts.tsx';
import { many } from '../look/words.ts';
import { MethodLink } from '../methods/method-link.tsx';
import { planQuery } from '../server/queries.ts';
import { PlannedRuns } from './planned-runs.tsx';
import { Safety } from './safety.tsx';

/** What each control is for, what the ones done leave tangled, and the one more that parts most; then what to mind. */
export function Controls({ study }: { study: string }) {
  const { data } = useQuery(planQuery(study));
  if (!data) return null;
  const { controls, cautions, safety, runs } = data;
  if (controls.causes.length < 3 && cautions.length === 0) return null;
  return (
    <>
      <PlannedRuns study={study} runs={runs} />
      <Section
        title="Which control is for what"
        lead={`Particles can come from ${controls.causes.join(', ')}. The smallest set of controls that gives each of them a pattern of its own:`}
      >
        <ul className="controls">
          {controls.best.map(({ called, how, buys, done }) => (
            <li key={called} className={done ? 'is-done' : 'is-missing'}>
              <span className="control-name">{called}</span>
              <span className="control-shows">{how}</span>
              <span>{done ? `Done. ${buys}` : `Not done. ${buys}`}</span>
            </li>
          ))}
        </ul>
        <p className="reading section-deeds">
          {controls.tangled === 0
            ? 'The controls done so far tell every cause apart from every other.'
            : `${many(controls.tangled, 'pair')} of causes cannot be told apart by the controls done so far.${
                controls.next
                  ? ` One more buys most: ${controls.next.called}. ${controls.next.buys}`
                  : ' No further control known here would part them.'
              }`}
        </p>
        <MethodLink name="controls" />
      </Section>
      <Safety study={study} cautions={cautions} safety={safety} />
    </>
  );
}
