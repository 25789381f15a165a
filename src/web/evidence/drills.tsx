import { useQuery } from '@tanstack/react-query';
import { useCallback } from 'react';
import type { DrillJson, EvidenceAnswer } from '../../api/index.ts';
import { benchTest } from '../../bench/index.ts';
import { type RateLine, rateBars } from '../../report/index.ts';
import { CLASS_WORDS } from '../../study/index.ts';
import { Drawing } from '../look/drawing.tsx';
import { Failed, Nothing, PlaceHead, Section, Waiting } from '../look/parts.tsx';
import { MethodLink } from '../methods/method-link.tsx';
import { evidenceQuery } from '../server/queries.ts';
import { BackToEvidence } from './back.tsx';
import { DrillRecord } from './drill-record.tsx';
import { RunDrill } from './drill-run.tsx';
import { NewSet } from './new-set.tsx';
import { toEvidence } from './paths.ts';
import { SetFromPhoto } from './set-from-photo.tsx';

export const testName = (test: string): string =>
  test === 'by-eye' ? 'by eye' : (benchTest(test)?.name.toLowerCase() ?? test);

type TallyJson = DrillJson['plastic'];
const line = (name: string, tally: TallyJson, wants: RateLine['wants']): RateLine => ({
  name,
  rate: tally.rate,
  says: tally.n === 0 ? 'none shown' : `${tally.k} of ${tally.n}`,
  wants,
});

const SHOWS =
  'Dots: known plastics called plastic, the further right the better. Squares: look-alikes called plastic, the further left the better.';

/** How often known pieces are called plastic, over all that scored them. */
export function DrillsSection({ study, evidence }: { study: string; evidence: EvidenceAnswer }) {
  const { drills } = evidence;
  const draw = useCallback(
    (width: number) =>
      rateBars(
        drills.flatMap((drill) => [
          line(`plastics, ${testName(drill.test)}`, drill.plastic, 'high'),
          line(`look-alikes, ${testName(drill.test)}`, drill.others, 'low'),
        ]),
        width,
        'Drills',
      ),
    [drills],
  );
  return (
    <Section title="How often we are wrong" lead={drills.length > 0 ? SHOWS : undefined}>
      {drills.length === 0 ? (
        <Nothing icon="evidence" title="No drill yet">
          <p>
            Known plastics and known look-alikes, scored as the real pieces are, tell how many true pieces are
            missed and how many cotton fibres are taken for plastic. The claim is then corrected by it. Ten of
            each are the least; thirty of each are good.
          </p>
          <p>
            <a className="button" href={toEvidence(study, 'drills')}>
              Make a set and drill
            </a>
          </p>
        </Nothing>
      ) : (
        <>
          <Drawing draw={draw} />
          <p>
            <a className="button" href={toEvidence(study, 'drills')}>
              Drill, and see by class, size and day
            </a>
          </p>
        </>
      )}
    </Section>
  );
}

export function DrillsPage({ study }: { study: string }) {
  const { data, error, refetch } = useQuery(evidenceQuery(study));
  if (error && !data) return <Failed error={error} again={() => void refetch()} />;
  if (!data) return <Waiting what="the drills" />;
  return (
    <div className="page">
      <BackToEvidence study={study} />
      <PlaceHead
        title="Drills"
        lead="Pieces whose material is known, scored as the real ones are: the measured error of each person and test."
      />
      {data.sets.map((set) => (
        <RunDrill key={set.id} study={study} set={set} />
      ))}
      <NewSet study={study} first={data.sets.length === 0} />
      <SetFromPhoto study={study} />
      {data.drills.map((drill) => (
        <Rates key={drill.test} drill={drill} />
      ))}
      <DrillRecord study={study} sittings={data.sittings} />
      <MethodLink name="drills" />
    </div>
  );
}

function Rates({ drill }: { drill: DrillJson }) {
  const draw = useCallback(
    (width: number) => {
      const parts = (some: DrillJson['by_person']): RateLine[] =>
        some.flatMap((part) => [
          line(`plastics, ${part.name}`, part.plastic, 'high'),
          line(`look-alikes, ${part.name}`, part.others, 'low'),
        ]);
      return rateBars(
        [
          line('all plastics', drill.plastic, 'high'),
          line('all look-alikes', drill.others, 'low'),
          ...drill.by_class.map((one) =>
            line(
              CLASS_WORDS[one.class].replace(/ \(.*\)/, ''),
              one.tally,
              one.class === 'thermoplastic' || one.class === 'thermoset-or-rubber' ? 'high' : 'low',
            ),
          ),
          ...parts(drill.by_person),
          ...parts(drill.by_size),
          ...(drill.by_day.length > 1 ? parts(drill.by_day) : []),
          ...parts([drill.announced, drill.slipped_in].filter((part) => part.plastic.n + part.others.n > 0)),
        ],
        width,
        `Drill ${testName(drill.test)}`,
      );
    },
    [drill],
  );
  return (
    <Section title={`Rates ${testName(drill.test)}`} lead={SHOWS}>
      <Drawing draw={draw} />
      {drill.contradicts.length > 0 ? (
        <p className="fine">
          Called both ways by the same person: {[...new Set(drill.contradicts)].join(', ')}. Both calls count;
          one that was a slip can be taken back below.
        </p>
      ) : null}
      {drill.enough ? null : (
        <p className="fine warned">
          Ten plastics and ten look-alikes at least are needed before the claim is corrected by these rates.
        </p>
      )}
      {drill.published.map((one) => (
        <p className="fine" key={one.what}>
          Published, for comparison only: {Math.round(100 * one.share)} %{' '}
          {one.what === 'kept-of-plastic' ? 'of plastics passed' : 'of other pieces passed'} ({one.source}).
        </p>
      ))}
    </Section>
  );
}
