import type { ClaimDetailsJson } from '../../api/index.ts';
import { figure, percent } from '../../report/index.ts';
import { pathTo } from '../app/where.ts';
import { Section } from '../look/parts.tsx';
import { KIND_WORDS, many } from '../look/words.ts';
import { WhereFrom } from './where-from.tsx';

type Span = NonNullable<ClaimDetailsJson['recovery']>;
const shares = (of: Span) => `${percent(of.value)} (${percent(of.lower)} to ${percent(of.upper)})`;

/** What is lost, what is kept by mistake, and how much controls scatter in these hands. */
export function Losses({ details }: { details: ClaimDetailsJson }) {
  const { study, recovery, spikes, drill, natural_kept, history } = details;
  return (
    <Section title="Losses, mistakes, earlier blanks">
      <dl className="plain-facts">
        <div>
          <dt>Known pieces found again</dt>
          <dd>{recovery ? shares(recovery) : 'not measured'}</dd>
        </div>
        {spikes.map((spike) => (
          <div key={spike.run}>
            <dt>
              <a href={pathTo({ page: 'runs', study, item: spike.run })}>{spike.name}</a>
            </dt>
            <dd>
              {spike.found} of {spike.added}
            </dd>
          </div>
        ))}
        <div>
          <dt>Plastic pieces that the scorer keeps</dt>
          <dd>{drill ? shares(drill.true_kept) : 'no drill yet'}</dd>
        </div>
        <div>
          <dt>Natural pieces that the scorer keeps</dt>
          <dd>{drill ? shares(drill.others_kept) : 'no drill yet'}</dd>
        </div>
        {natural_kept ? (
          <div>
            <dt>Natural pieces that may be in the net count</dt>
            <dd>
              {figure(Math.round(natural_kept.value))} ({figure(Math.round(natural_kept.lower))} to{' '}
              {figure(Math.round(natural_kept.upper))})
            </dd>
          </div>
        ) : null}
        <div>
          <dt>Controls of earlier studies here</dt>
          <dd>
            {history.length === 0
              ? 'none'
              : many(
                  history.reduce((sum, batch) => sum + batch.runs.length, 0),
                  'run',
                )}
          </dd>
        </div>
      </dl>
      <WhereFrom
        study={study}
        formula="Recovery: pieces found ÷ pieces added over all spiked runs, with its scatter between runs. Natural pieces kept: the scorer’s rate on known natural pieces × candidates that the product has beyond the controls."
        source="Clopper & Pearson 1934 (intervals); Rogan & Gladen 1978, Am. J. Epidemiol. 107:71 (false keeps)."
        method="drills"
        deceives="known pieces are easier to see, or stick less, than what the product sheds."
      >
        {history.length > 0 ? (
          <ul className="reasons">
            {history.map((batch) => (
              <li key={`${batch.study} ${batch.kind}`}>
                {batch.study}, {KIND_WORDS[batch.kind as keyof typeof KIND_WORDS]}s:{' '}
                {batch.runs.map((run) => figure(Math.round(run.count / run.stands_for))).join(', ')} in the
                whole run
              </li>
            ))}
          </ul>
        ) : (
          <p>Controls of other studies of this laboratory, counted in the same sizes, would stand here.</p>
        )}
      </WhereFrom>
    </Section>
  );
}
