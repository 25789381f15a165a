import { useQuery } from '@tanstack/react-query';
import { Failed, PlaceHead, Waiting } from '../look/parts.tsx';
import { evidenceQuery } from '../server/queries.ts';
import { Basis } from './basis.tsx';
import { ByHandSection } from './by-hand.tsx';
import { DrillsPage, DrillsSection } from './drills.tsx';
import { HowSure } from './how-sure.tsx';
import { PiecePage } from './piece-page.tsx';
import { RoundPage } from './round-page.tsx';
import { RoundsSection } from './rounds.tsx';
import { ScorePage } from './score-page.tsx';
import { SpectraSection } from './spectra-section.tsx';
import { SubsetPage } from './subset-page.tsx';
import { SubsetsSection } from './subsets.tsx';
import { TestsAtHand } from './tests-at-hand.tsx';

/** What particles are, how wrong we are, and scoring without knowing. `item`: one subset, piece, round, scoring or the drills. */
export function EvidencePlace({ study, item }: { study: string; item: string | null }) {
  const [, what = '', id] = /^([a-z]+)(?:-(.+))?$/.exec(item ?? '') ?? [];
  if (what === 'drills') return <DrillsPage study={study} />;
  if (what === 'subset' && id) return <SubsetPage study={study} subset={id} />;
  if (what === 'piece' && id) return <PiecePage study={study} piece={id} />;
  if (what === 'round' && id) return <RoundPage study={study} round={id} />;
  if (what === 'score' && id) return <ScorePage study={study} round={id} />;
  return <Overview study={study} />;
}

function Overview({ study }: { study: string }) {
  const { data, error, refetch } = useQuery(evidenceQuery(study));
  if (error && !data) return <Failed error={error} again={() => void refetch()} />;
  if (!data) return <Waiting what="the evidence" />;
  return (
    <div className="page">
      <PlaceHead
        title="Evidence"
        lead="What the pieces are, how often we are wrong, and scoring without knowing which is which."
      />
      <HowSure study={study} evidence={data} />
      <TestsAtHand study={study} evidence={data} />
      <SubsetsSection study={study} evidence={data} />
      <ByHandSection study={study} evidence={data} />
      <SpectraSection study={study} />
      <DrillsSection study={study} evidence={data} />
      <RoundsSection study={study} evidence={data} />
      <Basis study={study} />
    </div>
  );
}
