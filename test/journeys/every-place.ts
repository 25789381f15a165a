/** The address of every page of the application, with what the example laboratory has to show there. */
import type { EvidenceAnswer, FilterJson, FiltersAnswer, RunsAnswer } from '../../src/api/index.ts';
import { LIQUID_TABLES } from '../../src/web/liquids/tables.ts';
import { METHODS } from '../../src/web/methods/methods.ts';

/** Addresses of a study: its places, and all that lies beneath them. */
export async function placesOf(
  asked: <T>(path: string) => Promise<T>,
  study: string,
  filter: FilterJson,
): Promise<readonly string[]> {
  const of = (view: string) => `/api/studies/${study}/${view}`;
  const { filters } = await asked<FiltersAnswer>(of('filters'));
  const { runs } = await asked<RunsAnswer>(of('runs'));
  const evidence = await asked<EvidenceAnswer>(of('evidence'));
  const photos = filters.flatMap((one) => one.photos).filter((one) => one.state === 'searched');
  const own = filter.photos.find((one) => one.state === 'searched')!;
  const other = photos.find((one) => one.id !== own.id)!;
  return [
    '',
    '/question',
    '/reach',
    '/procedure',
    '/runs',
    `/runs/${filter.run.id}`,
    `/runs/${filter.run.id}/bench`,
    `/runs/${runs.find((run) => run.kind === 'spiked-run')!.id}`,
    '/labels',
    '/filters',
    `/filters/${filter.id}`,
    `/filters/${filter.id}/photos/${own.id}`,
    '/beside',
    `/beside/${own.id}/${other.id}`,
    '/evidence',
    '/evidence/drills',
    ...evidence.subsets.map(({ id }) => `/evidence/subset-${id}`),
    ...evidence.answers.slice(0, 1).map(({ particle }) => `/evidence/piece-${particle}`),
    ...evidence.rounds.flatMap(({ id }) => [`/evidence/round-${id}`, `/evidence/score-${id}`]),
    '/claim',
  ].map((path) => `/studies/${study}${path}`);
}

/** Pages beside any study. */
export const PAGES_BESIDE: readonly string[] = [
  '/',
  '/new-study',
  '/people',
  '/join',
  '/account',
  '/new-password',
  '/network',
  '/pair',
  ...LIQUID_TABLES.map((table) => `/liquids/${table}`),
  '/methods',
  '/nowhere/at/all',
];
/** All of them are set from texts by one page; their headings and tables are their own. */
export const METHOD_PAGES: readonly string[] = METHODS.map(({ name }) => `/methods/${name}`);
