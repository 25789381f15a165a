import { useQuery } from '@tanstack/react-query';
import { type ComponentType, lazy, Suspense, useEffect } from 'react';
import { ClaimPlace } from '../claim/claim-place.tsx';
import { FilterPage } from '../filters/filter-page.tsx';
import { FiltersPlace } from '../filters/filters-place.tsx';
import { Nothing, Waiting } from '../look/parts.tsx';
import { QuestionPlace } from '../question/question-place.tsx';
import { RunPage } from '../runs/run-page.tsx';
import { RunsPlace } from '../runs/runs-place.tsx';
import { meQuery } from '../server/queries.ts';
import { StandsPage } from '../stands/stands-page.tsx';
import { visit } from '../stands/visited.ts';
import { NewStudy } from '../studies/new-study.tsx';
import { StudiesPage } from '../studies/studies-page.tsx';
import { Shell } from './shell.tsx';
import { pathTo, TITLES, useWhere, type Where } from './where.ts';

/** Looking needs the viewer, which is large: it comes when somebody looks. */
const PhotoPage: ComponentType<{ study: string; filter: string; photo: string }> = lazy(async () => ({
  default: (await import('../looking/photo-page.tsx')).PhotoPage,
}));

const BesidePage: ComponentType<{ study: string; photos: readonly [string | null, string | null] }> = lazy(
  async () => ({ default: (await import('../looking/beside-page.tsx')).BesidePage }),
);

const MethodPage: ComponentType<{ name: string | null }> = lazy(async () => ({
  default: (await import('../methods/method-page.tsx')).MethodPage,
}));

/** The bench reckons for itself, so that it answers without the laboratory: it comes when somebody goes there. */
const BenchPage: ComponentType<{ study: string; run: string }> = lazy(async () => ({
  default: (await import('../bench/bench-page.tsx')).BenchPage,
}));
const NetworkPage: ComponentType = lazy(async () => ({
  default: (await import('../telephone/network-page.tsx')).NetworkPage,
}));
const PairPage: ComponentType = lazy(async () => ({
  default: (await import('../telephone/pair-page.tsx')).PairPage,
}));
const LabelsPage: ComponentType<{ study: string }> = lazy(async () => ({
  default: (await import('../bench/labels-page.tsx')).LabelsPage,
}));

const PlanningPage: ComponentType<{ study: string }> = lazy(async () => ({
  default: (await import('../planning/planning-page.tsx')).PlanningPage,
}));

const LiquidsPage: ComponentType<{ table: string | null }> = lazy(async () => ({
  default: (await import('../liquids/liquids-page.tsx')).LiquidsPage,
}));

const PeoplePage: ComponentType = lazy(async () => ({
  default: (await import('../people/people-page.tsx')).PeoplePage,
}));
const SignIn: ComponentType = lazy(async () => ({ default: (await import('../people/sign-in.tsx')).SignIn }));
const Join: ComponentType = lazy(async () => ({ default: (await import('../people/sign-in.tsx')).Join }));

/** Procedures bring their editor, the woven band and the checklist with them. */
const ProcedurePlace: ComponentType<{ study: string }> = lazy(async () => ({
  default: (await import('../procedure/procedure-place.tsx')).ProcedurePlace,
}));

/** Bench tests and their judgement come when somebody asks for the evidence. */
const EvidencePlace: ComponentType<{ study: string; item: string | null }> = lazy(async () => ({
  default: (await import('../evidence/evidence-place.tsx')).EvidencePlace,
}));

export function App() {
  const where = useWhere();
  useEffect(() => {
    document.title = `${TITLES[where.page]} · Retentate`;
    visit(where.page);
  }, [where.page]);
  return (
    <Shell where={where}>
      <Let where={where} />
    </Shell>
  );
}

/** In a group nobody sees a place before signing in; the address stays, so that it opens afterwards. */
function Let({ where }: { where: Where }) {
  const me = useQuery(meQuery).data;
  const outside = me?.accounts === true && me.account === null;
  if (where.page === 'method' || where.page === 'join' || !outside) return <PageOf where={where} />;
  return (
    <Suspense fallback={<Waiting what="the way in" />}>
      <SignIn />
    </Suspense>
  );
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
      return (
        <Suspense fallback={<Waiting what="the procedure" />}>
          <ProcedurePlace study={where.study} />
        </Suspense>
      );
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
      return (
        <Suspense fallback={<Waiting what="the evidence" />}>
          <EvidencePlace study={where.study} item={where.item} />
        </Suspense>
      );
    case 'claim':
      return <ClaimPlace study={where.study} />;
    case 'photo':
      return (
        <Suspense fallback={<Waiting what="the photograph" />}>
          <PhotoPage key={where.photo} study={where.study} filter={where.filter} photo={where.photo} />
        </Suspense>
      );
    case 'beside':
      return (
        <Suspense fallback={<Waiting what="the photographs" />}>
          <BesidePage study={where.study} photos={where.photos} />
        </Suspense>
      );
    case 'liquids':
      return (
        <Suspense fallback={<Waiting what="the page" />}>
          <LiquidsPage table={where.table} />
        </Suspense>
      );
    case 'people':
    case 'join':
      return (
        <Suspense fallback={<Waiting what="the page" />}>
          {where.page === 'people' ? <PeoplePage /> : <Join />}
        </Suspense>
      );
    case 'method':
      return (
        <Suspense fallback={<Waiting what="the page" />}>
          <MethodPage name={where.name} />
        </Suspense>
      );
    case 'bench':
      return (
        <Suspense fallback={<Waiting what="the run sheet" />}>
          <BenchPage key={where.run} study={where.study} run={where.run} />
        </Suspense>
      );
    case 'network':
      return (
        <Suspense fallback={<Waiting what="the network" />}>
          <NetworkPage />
        </Suspense>
      );
    case 'pair':
      return (
        <Suspense fallback={<Waiting what="the page" />}>
          <PairPage />
        </Suspense>
      );
    case 'labels':
      return (
        <Suspense fallback={<Waiting what="the labels" />}>
          <LabelsPage study={where.study} />
        </Suspense>
      );
    case 'reach':
      return (
        <Suspense fallback={<Waiting what="the plan" />}>
          <PlanningPage study={where.study} />
        </Suspense>
      );
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
