import { useQuery } from '@tanstack/react-query';
import { figure, percent } from '../../report/index.ts';
import { pathTo } from '../app/where.ts';
import { Fact, Failed, PlaceHead, Section, Waiting } from '../look/parts.tsx';
import { IDENTIFIED_WORDS, unbroken } from '../look/words.ts';
import { runsQuery, standingQuery } from '../server/queries.ts';
import { Ladder } from '../stands/ladder.tsx';
import { HoldsBack } from '../stands/mend.tsx';
import { NetPicture, RunsPicture } from '../stands/picture.tsx';
import { BehindTheClaim } from './behind.tsx';
import { BackgroundFacts, Rules, ThresholdFacts } from './number-facts.tsx';
import { NumberFrom } from './number-from.tsx';
import { Published } from './published.tsx';
import { ReaderAsks } from './reader-asks.tsx';
import { ReportAlong } from './report-along.tsx';
import { TakeAlong } from './take-along.tsx';

/** The claim: its sentence, why it is this one, its number with all that travels with it, and what would move it. */
export function ClaimPlace({ study }: { study: string }) {
  const { data, error, refetch } = useQuery(standingQuery(study));
  const runs = useQuery(runsQuery(study)).data?.runs;
  if (error && !data) return <Failed error={error} again={() => void refetch()} />;
  if (!data) return <Waiting what="the claim" />;
  const { claim, held_back, comparisons, specimen } = data;
  const net = claim.net_per_gram;
  return (
    <div className="page claim">
      <PlaceHead title="Claim" lead="The strongest sentence that the evidence allows today.">
        <a className="button" href={pathTo({ page: 'reach', study })}>
          Plan the next runs
        </a>
      </PlaceHead>
      <blockquote className="claim-sentence" aria-live="polite">
        {unbroken(claim.sentence)}
      </blockquote>
      <Ladder claim={claim} />
      <div className="two">
        <Section title="Why this sentence">
          <ul className="reasons">
            {claim.because.map((reason) => (
              <li key={reason}>{unbroken(reason)}</li>
            ))}
          </ul>
        </Section>
        <Section title="What would move it">
          {claim.next.length === 0 ? (
            <p>Nothing further is known to move this claim.</p>
          ) : (
            <ul className="reasons">
              {claim.next.map((step) => (
                <li key={step}>{unbroken(step)}</li>
              ))}
            </ul>
          )}
        </Section>
      </div>
      <Section title="The number and what travels with it">
        <dl className="facts">
          <Fact
            name="Net per gram"
            value={net ? figure(net.value) : 'not stated'}
            note={
              net
                ? `${figure(net.lower)} to ${figure(net.upper)}, ${percent(net.confidence)}`
                : 'nothing can be judged yet'
            }
          />
          {claim.upper_limit_per_gram !== null ? (
            <Fact
              name="No more than"
              value={figure(claim.upper_limit_per_gram)}
              note={`per gram, upper limit, one-sided${net ? ` at ${percent(net.confidence)}` : ''}: the two-sided interval beside it reaches further up`}
            />
          ) : null}
          <Fact
            name="Identified"
            value={IDENTIFIED_WORDS[claim.identified_by].replace('identified ', '')}
            note={claim.attributed ? 'attributed to the product' : 'not attributed to the product'}
          />
        </dl>
        {comparisons.length > 0 ? (
          <ul className="reasons comparisons">
            {comparisons.map((other) => (
              <li key={other.specimen.id}>
                <strong>{other.specimen.name}.</strong> {other.claim.sentence}
              </li>
            ))}
          </ul>
        ) : null}
        {runs && runs.length > 0 ? <RunsPicture study={study} runs={runs} claim={claim} /> : null}
        <NetPicture standing={data} />
        <NumberFrom study={study} claim={claim} />
      </Section>
      {specimen ? (
        <BehindTheClaim study={study} specimens={[specimen, ...comparisons.map((other) => other.specimen)]} />
      ) : null}
      <div className="two">
        <Section title="Background" lead="From the controls that went through the same steps.">
          <BackgroundFacts claim={claim} />
        </Section>
        <Section title="Thresholds" lead="From where runs stand out, and what could be found.">
          <ThresholdFacts claim={claim} />
        </Section>
      </div>
      <Section
        title="Other published rules, beside it"
        lead="For comparison only: the claim does not rest on them, and some deceive at low counts."
      >
        <Rules claim={claim} />
      </Section>
      {specimen ? (
        <Published study={study} specimens={[specimen, ...comparisons.map((other) => other.specimen)]} />
      ) : null}
      <Section title="What holds it back" id="holds">
        <HoldsBack study={study} held={held_back} />
      </Section>
      <ReaderAsks study={study} />
      <ReportAlong study={study} />
      <TakeAlong study={study} />
    </div>
  );
}
