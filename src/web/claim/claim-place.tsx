import { useQuery } from '@tanstack/react-query';
import type { StandingJson } from '../../api/index.ts';
import { figure, percent } from '../../report/index.ts';
import { pathTo } from '../app/where.ts';
import { Fact, Failed, PlaceHead, Section, Waiting } from '../look/parts.tsx';
import { IDENTIFIED_WORDS, many, unbroken } from '../look/words.ts';
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
import { WhereFrom } from './where-from.tsx';

/** The claim: its sentence, why it is this one, its number with all that travels with it, and what would move it. */
export function ClaimPlace({ study }: { study: string }) {
  const { data, error, refetch } = useQuery(standingQuery(study));
  const runs = useQuery(runsQuery(study)).data?.runs;
  if (error && !data) return <Failed error={error} again={() => void refetch()} />;
  if (!data) return <Waiting what="the claim" />;
  const { claim, held_back, comparisons, specimen, withdrawn } = data;
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
      {withdrawn.runs > 0 ? (
        <p className="claim-withdrawn">
          {withdrawnWords(withdrawn)} <a href={pathTo({ page: 'runs', study, item: null })}>Which, and why</a>
        </p>
      ) : null}
      <Ladder claim={claim} />
      <Contents />
      <div className="two">
        <Section title="Why this sentence" id="why">
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
      <Section title="The number and what travels with it" id="number">
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
      <div id="behind">
        {specimen ? (
          <BehindTheClaim
            study={study}
            specimens={[specimen, ...comparisons.map((other) => other.specimen)]}
          />
        ) : null}
      </div>
      <div className="two">
        <Section
          title="Background"
          id="background"
          lead="From the controls that went through the same steps."
        >
          <BackgroundFacts claim={claim} />
          <WhereFrom
            study={study}
            formula="Background of one run = particles on the controls that repeat the run’s steps ÷ the runs they stand for, each by the shares that passed and were examined; its interval is the joint model’s, in which controls may scatter more than Poisson."
            source="The method page says how it is computed."
            method="counting-model"
            deceives="controls were run on another day or by other hands than the runs."
          />
        </Section>
        <Section title="Thresholds" lead="From where runs stand out, and what could be found.">
          <ThresholdFacts claim={claim} />
          <WhereFrom
            study={study}
            formula="The total from which runs stand out is the smallest that the deciding test would call above these controls. The other figures hold if runs scatter no more than Poisson: the decision threshold, and the net that would be found in 95 of 100 such studies."
            source="Currie 1968, Anal. Chem. 40:586; exact forms for small counts."
            method="counting-model"
            deceives="it is read as a fixed limit for the next study."
          />
        </Section>
      </div>
      <Section
        title="Other published rules, beside it"
        id="rules"
        lead="For comparison only: the claim does not rest on them, and some deceive at low counts."
      >
        <Rules claim={claim} />
        <WhereFrom
          study={study}
          formula="Each rule is worked out from the same counts as the claim, as its source states it; the source stands beside it."
          source="How often each rule calls nothing something is in the table of the calibration."
          method="counting-model"
          deceives="the rule that says what one hoped is picked afterwards."
        />
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

const withdrawnWords = ({ runs, after_count }: StandingJson['withdrawn']): string => {
  const late = after_count === runs ? '' : `${after_count} of them `;
  const when =
    after_count === 0
      ? 'before anything of it was counted'
      : `${late}after ${after_count === 1 ? 'its count' : 'their counts'} could be read`;
  return `${many(runs, 'run')} withdrawn and in no figure here, ${when}.`;
};

const PARTS = [
  ['why', 'Why this sentence'],
  ['number', 'The number'],
  ['behind', 'What lies behind it'],
  ['background', 'Background and thresholds'],
  ['rules', 'Other published rules'],
  ['holds', 'What holds it back'],
  ['report', 'Report'],
  ['take', 'Take it with you'],
] as const;

/** The page is long: its parts by name. */
function Contents() {
  return (
    <nav aria-label="On this page" className="claim-contents">
      <ul className="run-tags">
        {PARTS.map(([id, name]) => (
          <li key={id}>
            <a href={`#${id}`}>{name}</a>
          </li>
        ))}
      </ul>
    </nav>
  );
}
