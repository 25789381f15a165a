import { useQuery } from '@tanstack/react-query';
import { useEffect } from 'react';
import { Nothing } from '../look/parts.tsx';
import { meQuery } from '../server/queries.ts';
import { StandsPage } from '../stands/stands-page.tsx';
import { visit } from '../stands/visited.ts';
import { StudiesPage } from '../studies/studies-page.tsx';
import { rememberStudy } from './last-study.ts';
import { onDemand } from './on-demand.tsx';
import { PlaceBoundary } from './place-boundary.tsx';
import { Shell } from './shell.tsx';
import { pathTo, readWhere, TITLES, useWhere, type Where } from './where.ts';

const NewStudy = onDemand('the page', async () => (await import('../studies/new-study.tsx')).NewStudy);
const QuestionPlace = onDemand<{ study: string }>(
  'the question',
  async () => (await import('../question/question-place.tsx')).QuestionPlace,
);
const RunsPlace = onDemand<{ study: string }>(
  'the runs',
  async () => (await import('../runs/runs-place.tsx')).RunsPlace,
);
const RunPage = onDemand<{ study: string; run: string }>(
  'the run',
  async () => (await import('../runs/run-page.tsx')).RunPage,
);
const FiltersPlace = onDemand<{ study: string }>(
  'the filters',
  async () => (await import('../filters/filters-place.tsx')).FiltersPlace,
);
const FilterPage = onDemand<{ study: string; filter: string }>(
  'the filter',
  async () => (await import('../filters/filter-page.tsx')).FilterPage,
);
const ClaimPlace = onDemand<{ study: string }>(
  'the claim',
  async () => (await import('../claim/claim-place.tsx')).ClaimPlace,
);
/** Looking needs the viewer, which is large: it comes when somebody looks. */
const PhotoPage = onDemand<{ study: string; filter: string; photo: string }>(
  'the photograph',
  async () => (await import('../looking/photo-page.tsx')).PhotoPage,
);
const BesidePage = onDemand<{ study: string; photos: readonly [string | null, string | null] }>(
  'the photographs',
  async () => (await import('../looking/beside-page.tsx')).BesidePage,
);
const MethodPage = onDemand<{ name: string | null }>(
  'the page',
  async () => (await import('../methods/method-page.tsx')).MethodPage,
);
/** The bench reckons for itself, so that it answers without the laboratory: it comes when somebody goes there. */
const BenchPage = onDemand<{ study: string; run: string }>(
  'the run sheet',
  async () => (await import('../bench/bench-page.tsx')).BenchPage,
);
const NetworkPage = onDemand(
  'the network',
  async () => (await import('../telephone/network-page.tsx')).NetworkPage,
);
const PairPage = onDemand('the page', async () => (await import('../telephone/pair-page.tsx')).PairPage);
const LabelsPage = onDemand<{ study: string }>(
  'the labels',
  async () => (await import('../bench/labels-page.tsx')).LabelsPage,
);
const PlanningPage = onDemand<{ study: string }>(
  'the plan',
  async () => (await import('../planning/planning-page.tsx')).PlanningPage,
);
const LiquidsPage = onDemand<{ table: string | null }>(
  'the page',
  async () => (await import('../liquids/liquids-page.tsx')).LiquidsPage,
);
const PeoplePage = onDemand('the page', async () => (await import('../people/people-page.tsx')).PeoplePage);
const SignIn = onDemand('the way in', async () => (await import('../people/sign-in.tsx')).SignIn);
const Join = onDemand('the page', async () => (await import('../people/sign-in.tsx')).Join);
const NewPassword = onDemand('the page', async () => (await import('../people/sign-in.tsx')).NewPassword);
const OwnAccount = onDemand('the page', async () => (await import('../people/own-account.tsx')).OwnAccount);
/** Procedures bring their editor, the woven band and the checklist with them. */
const ProcedurePlace = onDemand<{ study: string }>(
  'the procedure',
  async () => (await import('../procedure/procedure-place.tsx')).ProcedurePlace,
);
/** Bench tests and their judgement come when somebody asks for the evidence. */
const EvidencePlace = onDemand<{ study: string; item: string | null }>(
  'the evidence',
  async () => (await import('../evidence/evidence-place.tsx')).EvidencePlace,
);

/** The parts that an address may need, in the order of the course; the way there may lead through any of them. */
const PARTS: Partial<{ readonly [P in Where['page']]: readonly Fetched[] }> = {
  'new-study': [NewStudy],
  question: [QuestionPlace],
  procedure: [ProcedurePlace],
  runs: [RunsPlace, RunPage],
  filters: [FiltersPlace, FilterPage],
  evidence: [EvidencePlace],
  claim: [ClaimPlace],
  photo: [PhotoPage],
  bench: [BenchPage],
  beside: [BesidePage],
  liquids: [LiquidsPage],
  method: [MethodPage],
  reach: [PlanningPage],
  labels: [LabelsPage],
};
type Fetched = { readonly fetch: () => void };
const AT_HAND = ['question', 'runs', 'filters', 'claim', 'procedure', 'evidence', 'photo', 'bench'] as const;

/** The places of the work are at hand before the connection may shake: fetched once the page has nothing else to do. */
export function fetchPlaces(): void {
  for (const page of AT_HAND) for (const part of PARTS[page] ?? []) part.fetch();
}

/** Whoever is about to follow a link finds its place there already. */
export function fetchAhead(): void {
  const ahead = (event: Event) => {
    const link = event.target instanceof Element ? event.target.closest('a[href]') : null;
    if (!(link instanceof HTMLAnchorElement) || link.origin !== location.origin) return;
    for (const part of PARTS[readWhere(link.pathname).page] ?? []) part.fetch();
  };
  for (const kind of ['pointerover', 'focusin', 'pointerdown'])
    addEventListener(kind, ahead, { passive: true });
}

export function App() {
  const where = useWhere();
  useEffect(() => {
    document.title = `${TITLES[where.page]} · Retentate`;
    visit(where.page);
  }, [where.page]);
  const study = 'study' in where ? where.study : null;
  useEffect(() => {
    if (study !== null) rememberStudy(study);
  }, [study]);
  return (
    <Shell where={where}>
      <PlaceBoundary at={JSON.stringify(where)}>
        <Let where={where} />
      </PlaceBoundary>
    </Shell>
  );
}

const OPEN_TO_ALL: readonly Where['page'][] = ['method', 'join', 'new-password'];

/** In a group nobody sees a place before signing in; the address stays, so that it opens afterwards. */
function Let({ where }: { where: Where }) {
  const me = useQuery(meQuery).data;
  const outside = me?.accounts === true && me.account === null;
  if (OPEN_TO_ALL.includes(where.page) || !outside) return <PageOf where={where} />;
  return <SignIn />;
}

function PageOf({ where }: { where: Where }) {
  switch (where.page) {
    case 'studies':
      return <StudiesPage />;
    case 'new-study':
      return <NewStudy />;
    case 'stands':
      return <StandsPage study={where.study} />;
    case 'question':
      return <QuestionPlace study={where.study} />;
    case 'procedure':
      return <ProcedurePlace study={where.study} />;
    case 'runs':
      return where.item === null ? (
        <RunsPlace study={where.study} />
      ) : (
        <RunPage key={where.item} study={where.study} run={where.item} />
      );
    case 'filters':
      return where.item === null ? (
        <FiltersPlace study={where.study} />
      ) : (
        <FilterPage study={where.study} filter={where.item} />
      );
    case 'evidence':
      return <EvidencePlace study={where.study} item={where.item} />;
    case 'claim':
      return <ClaimPlace study={where.study} />;
    case 'photo':
      return <PhotoPage key={where.photo} study={where.study} filter={where.filter} photo={where.photo} />;
    case 'beside':
      return <BesidePage study={where.study} photos={where.photos} />;
    case 'liquids':
      return <LiquidsPage table={where.table} />;
    case 'people':
      return <PeoplePage />;
    case 'join':
      return <Join />;
    case 'new-password':
      return <NewPassword />;
    case 'account':
      return <OwnAccount />;
    case 'method':
      return <MethodPage name={where.name} />;
    case 'bench':
      return <BenchPage key={where.run} study={where.study} run={where.run} />;
    case 'network':
      return <NetworkPage />;
    case 'pair':
      return <PairPage />;
    case 'labels':
      return <LabelsPage study={where.study} />;
    case 'reach':
      return <PlanningPage study={where.study} />;
    case 'nowhere':
      return (
        <div className="page">
          <h1>No such page</h1>
          <Nothing icon="question" title={`There is nothing at ${where.path}.`}>
            <p>
              A study may have been renamed or the address cut short. All studies of this laboratory are on{' '}
              <a href={pathTo({ page: 'studies' })}>the first page</a>.
            </p>
          </Nothing>
        </div>
      );
  }
}
