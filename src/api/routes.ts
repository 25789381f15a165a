/**
 * Every route of the laboratory's HTTP interface, as data: the server builds its routes and its OpenAPI document from this
 * list, and the screens build their requests from it, so the two cannot drift apart.
 */
import { z } from 'zod';
import { ClaimJson, ClaimWish } from './claim.ts';
import { LaboratoryJson, StudiesAnswer, StudyJson } from './laboratory.ts';
import { MarkAnswer, MarksAnswer, MarkWish } from './marks.ts';
import { FilterJson, FiltersAnswer, ParticlesAnswer, PhotoAdded, PhotoJson } from './photos.ts';
import { id, ofStudy, route } from './route.ts';
import { ACCOUNT_ROUTES } from './routes/accounts.ts';
import { BENCH_ROUTES } from './routes/bench.ts';
import { CHECKLIST_ROUTES } from './routes/checklist.ts';
import { CLAIM_DETAIL_ROUTES } from './routes/claim-details.ts';
import { COMPLETENESS_ROUTES } from './routes/completeness.ts';
import { COVERAGE_ROUTES } from './routes/coverage.ts';
import { EVIDENCE_ROUTES } from './routes/evidence.ts';
import { FALSE_FINDS_ROUTES } from './routes/false-finds.ts';
import { FLOW_ROUTES } from './routes/flow.ts';
import { NETWORK_ROUTES } from './routes/network.ts';
import { PACKET_ROUTES } from './routes/packets.ts';
import { PEOPLE_ROUTES } from './routes/people.ts';
import { PLAN_ROUTES } from './routes/plan.ts';
import { PLAN_STUDY_ROUTES } from './routes/plan-study.ts';
import { PROCEDURE_ROUTES } from './routes/procedures.ts';
import { PUBLISHED_ROUTES } from './routes/published.ts';
import { REPORT_ROUTES } from './routes/report.ts';
import { ROUND_ROUTES } from './routes/rounds.ts';
import { RUN_ROUTES } from './routes/runs.ts';
import { SEARCH_QUEUE_ROUTES } from './routes/search-queue.ts';
import { SEARCH_ROUTES } from './routes/search-settings.ts';
import { ARCHIVE_ROUTES, SPECTRA_ROUTES } from './routes/spectra.ts';
import { STUDY_ROUTES } from './routes/studies.ts';
import { RunsAnswer } from './runs.ts';
import { StandingJson } from './standing.ts';

const whole = z.string().regex(/^[0-9]{1,6}$/, 'a whole number');
const study = ofStudy;
const filter = z.object({ filter: id });
const photo = z.object({ photo: id });

export const ROUTES = {
  ...ACCOUNT_ROUTES,
  ...EVIDENCE_ROUTES,
  ...SPECTRA_ROUTES,
  ...ARCHIVE_ROUTES,
  ...PUBLISHED_ROUTES,
  ...REPORT_ROUTES,
  ...ROUND_ROUTES,
  ...PACKET_ROUTES,
  ...FLOW_ROUTES,
  ...PEOPLE_ROUTES,
  ...CLAIM_DETAIL_ROUTES,
  ...PLAN_ROUTES,
  ...STUDY_ROUTES,
  ...PROCEDURE_ROUTES,
  ...COMPLETENESS_ROUTES,
  ...FALSE_FINDS_ROUTES,
  ...SEARCH_ROUTES,
  ...SEARCH_QUEUE_ROUTES,
  ...COVERAGE_ROUTES,
  ...CHECKLIST_ROUTES,
  ...PLAN_STUDY_ROUTES,
  ...RUN_ROUTES,
  ...BENCH_ROUTES,
  ...NETWORK_ROUTES,
  laboratory: route({
    method: 'get',
    path: '/api/laboratory',
    does: 'Name, version and the method of finding particles.',
    answer: LaboratoryJson,
  }),
  studies: route({ method: 'get', path: '/api/studies', does: 'All studies.', answer: StudiesAnswer }),
  study: route({
    method: 'get',
    path: '/api/studies/{study}',
    does: 'One study with its question.',
    params: study,
    answer: StudyJson,
  }),
  standing: route({
    method: 'get',
    path: '/api/studies/{study}/standing',
    does: 'Where the study stands: the claim, runs against background, what holds it back.',
    params: study,
    answer: StandingJson,
  }),
  claim: route({
    method: 'get',
    path: '/api/studies/{study}/claim',
    does: 'The claim alone.',
    params: study,
    answer: ClaimJson,
  }),
  runs: route({
    method: 'get',
    path: '/api/studies/{study}/runs',
    does: 'Runs and controls with their counts.',
    params: study,
    answer: RunsAnswer,
  }),
  filters: route({
    method: 'get',
    path: '/api/studies/{study}/filters',
    does: 'Filters with their photos.',
    params: study,
    answer: FiltersAnswer,
  }),
  marks: route({
    method: 'get',
    path: '/api/studies/{study}/marks',
    does: 'The latest marks, newest first.',
    params: study,
    answer: MarksAnswer,
  }),
  undo: route({
    method: 'post',
    path: '/api/studies/{study}/undo',
    does: 'Undo the latest mark that stands.',
    params: study,
    answer: MarkAnswer,
  }),
  redo: route({
    method: 'post',
    path: '/api/studies/{study}/redo',
    does: 'Put back the mark that was undone last.',
    params: study,
    answer: MarkAnswer,
  }),
  filter: route({
    method: 'get',
    path: '/api/filters/{filter}',
    does: 'One filter with its photos.',
    params: filter,
    answer: FilterJson,
  }),
  addPhoto: route({
    method: 'put',
    path: '/api/filters/{filter}/photos',
    does: 'Bring in one photo: the body is the file itself. It is searched in the background.',
    params: filter,
    query: z.object({ name: z.string().min(1).max(1000) }),
    body: 'bytes',
    answer: PhotoAdded,
  }),
  photo: route({
    method: 'get',
    path: '/api/photos/{photo}',
    does: 'One photo.',
    params: photo,
    answer: PhotoJson,
  }),
  particles: route({
    method: 'get',
    path: '/api/photos/{photo}/particles',
    does: 'Particles of a photo with outlines, measures and decisions.',
    params: photo,
    answer: ParticlesAnswer,
  }),
  mark: route({
    method: 'post',
    path: '/api/photos/{photo}/marks',
    does: 'Decide on particles of a photo.',
    params: photo,
    body: MarkWish,
    answer: MarkAnswer,
  }),
  tile: route({
    method: 'get',
    path: '/api/photos/{photo}/tiles/{level}/{column}/{row}',
    does: 'One tile of the upright photo; level 0 is the whole photo in one tile.',
    params: photo.extend({ level: whole, column: whole, row: whole }),
    answer: 'image/jpeg',
  }),
  original: route({
    method: 'get',
    path: '/api/photos/{photo}/original',
    does: 'The original file, to the byte.',
    params: photo,
    answer: 'application/octet-stream',
  }),
  claimFromCounts: route({
    method: 'post',
    path: '/api/claim',
    does: 'A claim from counts alone; nothing is stored.',
    body: ClaimWish,
    answer: ClaimJson,
  }),
  progress: route({
    method: 'get',
    path: '/api/progress',
    does: 'Server-sent events: photos as they are searched, marks as they are made.',
    answer: 'text/event-stream',
  }),
} as const;
export type { Route } from './route.ts';
export type RouteName = keyof typeof ROUTES;

/** Address of a route with its parts filled in, each part encoded. Throws RangeError when a part is missing. */
export function address(path: string, parts: Readonly<Record<string, string | number>> = {}): string {
  return path.replace(/\{(\w+)\}/g, (_, name: string) => {
    const part = parts[name];
    if (part === undefined) throw new RangeError(`address of ${path}: the part “${name}” is missing`);
    return encodeURIComponent(String(part));
  });
}
