import { QueryClient, queryOptions, useQuery } from '@tanstack/react-query';
import { ask, Declined, NobodyAnswers } from './ask.ts';
import { isHere, setPresence } from './presence.ts';

export function makeClient(): QueryClient {
  return new QueryClient({
    defaultOptions: {
      queries: {
        staleTime: 5_000,
        networkMode: 'always',
        refetchOnWindowFocus: true,
        retry: (times, error) => !(error instanceof Declined) && times < 2,
        retryDelay: (times) => 500 * 2 ** times,
      },
      mutations: { networkMode: 'always' },
    },
  });
}

/** Runs a request and tells the page whether somebody answered. */
export async function heard<T>(request: Promise<T>): Promise<T> {
  try {
    const answer = await request;
    setPresence(true);
    return answer;
  } catch (error) {
    if (error instanceof NobodyAnswers) {
      setPresence(false);
      askAgainSoon();
    } else if (error instanceof Declined) setPresence(true);
    throw error;
  }
}

let asking = false;
/** A connection that broke without a word says nothing when it is whole again: it is tried until somebody answers. */
function askAgainSoon(): void {
  if (asking) return;
  asking = true;
  setTimeout(() => {
    asking = false;
    if (!isHere()) heard(ask('laboratory')).catch(() => {});
  }, 2000);
}

export const laboratoryQuery = queryOptions({
  queryKey: ['laboratory'],
  queryFn: () => heard(ask('laboratory')),
});
export const studiesQuery = queryOptions({ queryKey: ['studies'], queryFn: () => heard(ask('studies')) });
export const studyQuery = (study: string) =>
  queryOptions({ queryKey: ['study', study, 'study'], queryFn: () => heard(ask('study', { study })) });
export const peopleQuery = queryOptions({ queryKey: ['people'], queryFn: () => heard(ask('people')) });
export const questionQuery = (study: string) =>
  queryOptions({ queryKey: ['study', study, 'question'], queryFn: () => heard(ask('question', { study })) });
export const specimensQuery = (study: string) =>
  queryOptions({
    queryKey: ['study', study, 'specimens'],
    queryFn: () => heard(ask('specimens', { study })),
  });
export const weighingsQuery = (study: string) =>
  queryOptions({
    queryKey: ['study', study, 'weighings'],
    queryFn: () => heard(ask('weighings', { study })),
  });
export const proceduresQuery = (study: string) =>
  queryOptions({
    queryKey: ['study', study, 'procedures'],
    queryFn: () => heard(ask('procedures', { study })),
  });
export const coverageQuery = (study: string) =>
  queryOptions({ queryKey: ['study', study, 'coverage'], queryFn: () => heard(ask('coverage', { study })) });
export const checklistQuery = (study: string) =>
  queryOptions({
    queryKey: ['study', study, 'checklist'],
    queryFn: () => heard(ask('checklist', { study })),
  });
export const planQuery = (study: string) =>
  queryOptions({ queryKey: ['study', study, 'plan'], queryFn: () => heard(ask('plan', { study })) });
export const stepKindsQuery = queryOptions({
  queryKey: ['step-kinds'],
  queryFn: () => heard(ask('stepKinds')),
});
export const standingQuery = (study: string) =>
  queryOptions({ queryKey: ['study', study, 'standing'], queryFn: () => heard(ask('standing', { study })) });
export const runsQuery = (study: string) =>
  queryOptions({ queryKey: ['study', study, 'runs'], queryFn: () => heard(ask('runs', { study })) });
export const filtersQuery = (study: string) =>
  queryOptions({ queryKey: ['study', study, 'filters'], queryFn: () => heard(ask('filters', { study })) });
export const searchQuery = (study: string) =>
  queryOptions({ queryKey: ['study', study, 'search'], queryFn: () => heard(ask('search', { study })) });
export const completenessQuery = (study: string) =>
  queryOptions({
    queryKey: ['study', study, 'completeness'],
    queryFn: () => heard(ask('completeness', { study })),
    refetchInterval: (query) => (query.state.data?.under_way ? 700 : false),
  });
export const falseFindsQuery = (study: string) =>
  queryOptions({
    queryKey: ['study', study, 'false-finds'],
    queryFn: () => heard(ask('falseFinds', { study })),
    refetchInterval: (query) => (query.state.data?.under_way ? 700 : false),
  });
export const marksQuery = (study: string) =>
  queryOptions({ queryKey: ['study', study, 'marks'], queryFn: () => heard(ask('marks', { study })) });
export const publishedQuery = (study: string) =>
  queryOptions({
    queryKey: ['study', study, 'published'],
    queryFn: () => heard(ask('published', { study })),
  });
export const choicesQuery = (study: string) =>
  queryOptions({ queryKey: ['study', study, 'choices'], queryFn: () => heard(ask('runChoices', { study })) });
export const placesQuery = (study: string) =>
  queryOptions({ queryKey: ['study', study, 'places'], queryFn: () => heard(ask('photoPlaces', { study })) });
export const movesQuery = (study: string) =>
  queryOptions({ queryKey: ['study', study, 'moves'], queryFn: () => heard(ask('photoMoves', { study })) });
export const withdrawnQuery = (study: string) =>
  queryOptions({
    queryKey: ['study', study, 'withdrawn'],
    queryFn: () => heard(ask('withdrawn', { study })),
  });
export const networkQuery = queryOptions({
  queryKey: ['network'],
  queryFn: () => heard(ask('network')),
});
export const sheetQuery = (run: string) =>
  queryOptions({ queryKey: ['sheet', run], queryFn: () => heard(ask('runSheet', { run })) });
export const benchQuery = (study: string) =>
  queryOptions({ queryKey: ['study', study, 'bench'], queryFn: () => heard(ask('bench', { study })) });
export const labelsQuery = (study: string) =>
  queryOptions({ queryKey: ['study', study, 'labels'], queryFn: () => heard(ask('labels', { study })) });
export const evidenceQuery = (study: string) =>
  queryOptions({ queryKey: ['study', study, 'evidence'], queryFn: () => heard(ask('evidence', { study })) });
export const subsetQuery = (subset: string) =>
  queryOptions({ queryKey: ['subset', subset], queryFn: () => heard(ask('subset', { subset })) });
export const pieceQuery = (particle: string) =>
  queryOptions({ queryKey: ['piece', particle], queryFn: () => heard(ask('piece', { particle })) });
export const roundQuery = (round: string) =>
  queryOptions({ queryKey: ['round', round], queryFn: () => heard(ask('round', { round })) });
export const particlesQuery = (photo: string) =>
  queryOptions({ queryKey: ['particles', photo], queryFn: () => heard(ask('particles', { photo })) });
export const meQuery = queryOptions({ queryKey: ['me'], queryFn: () => heard(ask('me')), staleTime: 60_000 });
/** Whether who is signed in takes part in blinded rounds and sees nothing else of the studies. */
export const useScoresAlone = (): boolean => useQuery(meQuery).data?.account?.role === 'scorer';
export const accountsQuery = queryOptions({ queryKey: ['accounts'], queryFn: () => heard(ask('accounts')) });
export const searchesQuery = queryOptions({ queryKey: ['searches'], queryFn: () => heard(ask('searches')) });
