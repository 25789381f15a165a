import { useQuery } from '@tanstack/react-query';
import { figure, percent } from '../../report/index.ts';
import { pathTo } from '../app/where.ts';
import { Icon } from '../look/icons.tsx';
import { Failed, Nothing, Section, Waiting } from '../look/parts.tsx';
import { IDENTIFIED_WORDS, STATE_WORDS, unbroken } from '../look/words.ts';
import { runsQuery, standingQuery, studyQuery } from '../server/queries.ts';
import { FirstSteps } from './first-steps.tsx';
import { HoldsBack, WouldMove } from './mend.tsx';
import { NetPicture, RunsPicture } from './picture.tsx';

/** How a study opens: today's claim in one sentence, its picture, and what holds it back. */
export function StandsPage({ study }: { study: string }) {
  const asked = useQuery(studyQuery(study)).data;
  const standing = useQuery(standingQuery(study));
  const runs = useQuery(runsQuery(study)).data?.runs;
  if (standing.error && !standing.data) {
    return <Failed error={standing.error} again={() => void standing.refetch()} />;
  }
  if (!standing.data) return <Waiting what="where the study stands" />;
  const { claim, held_back } = standing.data;
  const net = claim.net_per_gram;
  const first = held_back.slice(0, 3);
  return (
    <div className="page stands">
      <header className="claim-head">
        <p className="asked">
          {asked ? (
            <>
              <strong>{asked.name}</strong>
              <a href={pathTo({ page: 'question', study, item: null })}>What was asked</a>
            </>
          ) : null}
        </p>
        <h1 className="claim-sentence" aria-live="polite">
          {unbroken(claim.sentence)}
        </h1>
        <p className="claim-state">
          <span className={`state state-${claim.state}`}>{STATE_WORDS[claim.state]}</span>
          {claim.state === 'quantified' || claim.state === 'detected-not-quantified' ? (
            <span>{IDENTIFIED_WORDS[claim.identified_by]}</span>
          ) : null}
          {net ? (
            <span>
              {figure(net.value)} net per gram, {figure(net.lower)} to {figure(net.upper)} (
              {percent(net.confidence)})
            </span>
          ) : null}
          <a href={pathTo({ page: 'claim', study, item: null })}>
            Why this sentence
            <Icon name="next" size={18} />
          </a>
        </p>
      </header>
      <div className="stands-body">
        <div className="stands-pictures">
          {runs === undefined ? (
            <Waiting what="the runs" />
          ) : runs.length > 0 ? (
            <>
              <RunsPicture study={study} runs={runs} claim={claim} />
              <NetPicture standing={standing.data} />
            </>
          ) : (
            <Nothing icon="runs" title="No run yet">
              <p>
                A picture grows here as runs are recorded: each run one dot, the background from your controls
                as a band behind them. One run of the product and one matching control are enough to begin.
              </p>
            </Nothing>
          )}
        </div>
        <div>
          {first.length > 0 ? (
            <Section title="What holds it back">
              <HoldsBack study={study} held={first} />
              {held_back.length > first.length ? (
                <p>
                  <a href={pathTo({ page: 'claim', study, item: null })}>
                    {held_back.length - first.length} more, and what each would gain
                  </a>
                </p>
              ) : null}
            </Section>
          ) : null}
          {first.length < 3 ? (
            <Section title="What would move it">
              <WouldMove study={study} steps={claim.next.slice(0, 3 - first.length)} />
            </Section>
          ) : null}
        </div>
      </div>
      {asked?.demonstration ? <FirstSteps study={study} /> : null}
    </div>
  );
}
