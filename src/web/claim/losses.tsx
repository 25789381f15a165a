import type { ClaimDetailsJson } from '../../api/index.ts';
import { figure, percent } from '../../report/index.ts';
import { pathTo } from '../app/where.ts';
import { testName } from '../evidence/drills.tsx';
import { Section } from '../look/parts.tsx';
import { KIND_WORDS, many } from '../look/words.ts';
import { WhereFrom } from './where-from.tsx';

type Span = NonNullable<ClaimDetailsJson['recovery']>;
const shares = (of: Span) => `${percent(of.value)} (${percent(of.lower)} to ${percent(of.upper)})`;

/** What is lost, what is kept by mistake, and how much controls scatter in these hands. */
export function Losses({ details }: { details: ClaimDetailsJson }) {
  const { study, recovery, spikes, drill, natural_kept, history } = details;
  const earlier = history.filter(({ serves }) => serves);
  const byTest = drill ? `, ${testName(drill.test)}` : '';
  return (
    <Section title="Losses, mistakes, earlier blanks">
      <dl className="plain-facts">
        <div>
          <dt>Known pieces found again</dt>
          <dd>{recovery ? shares(recovery) : 'not measured'}</dd>
        </div>
        {details.recovery_by_size.map((size) => (
          <div key={size.name}>
            <dt>
              {size.name}
              <small className="says">
                nearest to {many(size.on_specimens, 'piece')} of the product, {size.on_controls} of the
                controls
              </small>
            </dt>
            <dd>{shares(size.recovery)}</dd>
          </div>
        ))}
        {details.recovery_used ? (
          <div>
            <dt>Recovery in the number, with its scatter between runs</dt>
            <dd>{shares(details.recovery_used)}</dd>
          </div>
        ) : null}
        {spikes.map((spike) => (
          <div key={spike.run}>
            <dt>
              <a href={pathTo({ page: 'runs', study, item: spike.run })}>{spike.name}</a>
            </dt>
            <dd>
              {spike.found} of {spike.added}
              {spike.serves ? '' : ', left out: it went another way than the runs'}
            </dd>
          </div>
        ))}
        <div>
          <dt>Known plastics kept{byTest}</dt>
          <dd>{drill ? shares(drill.true_kept) : 'no drill yet'}</dd>
        </div>
        <div>
          <dt>Known natural pieces kept{byTest}</dt>
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
          <dt>Earlier controls here that tell the scatter</dt>
          <dd>
            {earlier.length === 0
              ? 'none'
              : many(
                  earlier.reduce((sum, batch) => sum + batch.runs.length, 0),
                  'run',
                )}
          </dd>
        </div>
      </dl>
      <WhereFrom
        study={study}
        formula="Recovery: pieces found ÷ pieces added over the spiked runs that went the way of the runs, with its scatter between them; where several sizes were put in, one over the recovery is the mean over what was counted near each size. Earlier controls of the same kind tell how much controls scatter within a batch, never how many pieces they hold. Known pieces kept: the drill of the test that the claim goes by; drills of the other tests stand in the evidence place. Natural pieces in the net count: the rate on known natural pieces × candidates that the product has beyond the controls."
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
                whole run{batch.serves ? '' : ' (another kind: shown, not used)'}
              </li>
            ))}
          </ul>
        ) : (
          <p>Controls of earlier studies of this laboratory, counted in the same sizes, would stand here.</p>
        )}
      </WhereFrom>
    </Section>
  );
}
