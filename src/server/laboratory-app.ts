import { OpenAPIHono } from '@hono/zod-openapi';
import type { Context, Env } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { HTTPException } from 'hono/http-exception';
import { troubleOf } from '../actions/index.ts';
import { type MarkWish, ROUTES, type Route, type RouteName } from '../api/index.ts';
import { flowReport, planReport } from '../study/index.ts';
import { accountDeeds } from './account-deeds.ts';
import { answered, type Deed, part, refusalAnswer, valid } from './answering.ts';
import { archiveAnswers } from './archive-answers.ts';
import { benchAnswers } from './bench-answers.ts';
import { checklistDeeds } from './checklist-views.ts';
import { claimDeed } from './claim-deed.ts';
import { claimDetailsView } from './claim-views.ts';
import { completenessAnswers } from './completeness-answers.ts';
import { coverageDeeds } from './coverage-views.ts';
import { DOCUMENT_PATH, routeOf } from './document.ts';
import { doorkeeper } from './doorkeeper.ts';
import { evidenceAnswers } from './evidence-answers.ts';
import { falseFindAnswers } from './false-find-answers.ts';
import { ownPagesOnly, safeHeaders } from './guards.ts';
import { markDeed, marksView, redoDeed, undoDeed } from './mark-views.ts';
import { networkAnswers } from './network/network-answers.ts';
import { workDesk } from './one-at-a-time.ts';
import { packetAnswers } from './packet-answers.ts';
import { peopleDeeds } from './people-views.ts';
import { addPhoto, original, tile } from './photo-bytes.ts';
import type { PhotoQueue } from './photo-queue.ts';
import { filtersView, filterView, particlesView, photoView } from './photo-views.ts';
import { planStudyDeeds } from './plan-study-views.ts';
import { procedureDeeds } from './procedure-views.ts';
import { progressStream } from './progress-stream.ts';
import { publishedAnswers } from './published-answers.ts';
import { statusOfTrouble } from './refusal-status.ts';
import { reportDeeds } from './report-view.ts';
import { roundAnswers } from './round-answers.ts';
import { runAnswers } from './run-answers.ts';
import { screens } from './screens.ts';
import { searchAnswers, searchQueueAnswers } from './search-answers.ts';
import type { Served } from './served.ts';
import { spectraAnswers } from './spectra-answers.ts';
import { studyDeeds } from './study-deeds.ts';
import { runsView, standingView, studiesView, studyView } from './study-views.ts';

/** Largest JSON body: a mark on ten thousand particles fits; photos have a door and a limit of their own. */
const MOST_JSON_BYTES = 1_000_000;

/** Paths whose body is a file: each deed has a limit of its own. */
const FILE_PATHS = Object.values(ROUTES as Readonly<Record<string, Route>>)
  .filter((route) => route.body === 'bytes')
  .map((route) => new RegExp(`^${route.path.replace(/\{\w+\}/g, '[^/]+')}$`));
const takesFile = (c: Context): boolean =>
  c.req.method === 'PUT' && FILE_PATHS.some((path) => path.test(c.req.path));

/** What of a request is not of the stated shape, in plain words. */
function shapeWords(
  issue: { code?: string; path: PropertyKey[]; message: string; keys?: readonly string[] } | undefined,
  target: string,
): string {
  const where = issue?.path.join('.') || target;
  if (issue?.code === 'unrecognized_keys' && issue.keys) {
    return `${where}: there is no field of the name ${issue.keys.map((key) => `“${key}”`).join(', ')} here; is it misspelt?`;
  }
  return `${where}: ${issue?.message ?? 'not of the stated shape'}.`;
}

/** Everything that a laboratory answers over HTTP: the interface for programs, its document, and the screens. */
export function laboratoryApp(lent: Served, queue: PhotoQueue, port: () => number): OpenAPIHono {
  const app = new OpenAPIHono<Env>({
    defaultHook: (result, c) => {
      if (result.success) return undefined;
      // An address of no record's form names nothing that could be here.
      if (result.target === 'param') {
        return refusalAnswer(
          c,
          'no-such-thing',
          `There is nothing at ${c.req.path} in this laboratory.`,
          404,
        );
      }
      const first = result.error.issues[0];
      return refusalAnswer(c, 'not-of-the-shape', shapeWords(first, result.target), 400);
    },
  });
  app.use(safeHeaders, ownPagesOnly(port, lent.group?.site ?? null));
  app.use('/api/*', async (c, next) => {
    if (takesFile(c)) return next();
    return bodyLimit({
      maxSize: MOST_JSON_BYTES,
      onError: (over) =>
        refusalAnswer(over, 'too-many-bytes', 'The request is larger than 1 MB; send less at once.', 413),
    })(c, next);
  });

  const drawing = workDesk();
  const learning = workDesk();
  /** What each route does; a route of the list without a deed does not compile. */
  const deedsFor = (served: Served): Readonly<Record<RouteName, Deed>> => ({
    ...accountDeeds(served, queue),
    ...peopleDeeds(served),
    ...studyDeeds(served),
    ...procedureDeeds(served),
    ...completenessAnswers(served, drawing),
    ...falseFindAnswers(served, learning),
    ...searchAnswers(served, queue),
    ...searchQueueAnswers(served, queue),
    ...coverageDeeds(served),
    ...checklistDeeds(served),
    ...planStudyDeeds(served),
    laboratory: (c) =>
      c.json({
        name: served.laboratory.name,
        version: served.version,
        demonstration: served.laboratory.invented,
        prints: served.reports?.prints ?? false,
        finder: { method: served.work.method, version: served.work.version },
      }),
    studies: async (c) => c.json(await studiesView(served)),
    study: async (c) => answered(c, await studyView(served, part(c, 'study'))),
    standing: async (c) => answered(c, await standingView(served, part(c, 'study'))),
    claim: async (c) => answered(c, await standingView(served, part(c, 'study')), (stands) => stands.claim),
    runs: async (c) => answered(c, await runsView(served, part(c, 'study')), (runs) => ({ runs })),
    filters: async (c) =>
      answered(c, await filtersView(served, queue, part(c, 'study')), (filters) => ({ filters })),
    marks: async (c) => answered(c, await marksView(served, part(c, 'study')), (marks) => ({ marks })),
    undo: async (c) => answered(c, await undoDeed(served, queue, part(c, 'study'))),
    redo: async (c) => answered(c, await redoDeed(served, queue, part(c, 'study'))),
    filter: async (c) => answered(c, await filterView(served, queue, part(c, 'filter'))),
    photo: async (c) => answered(c, await photoView(served, queue, part(c, 'photo'))),
    particles: async (c) => answered(c, await particlesView(served, part(c, 'photo'))),
    mark: async (c) =>
      answered(c, await markDeed(served, queue, part(c, 'photo'), valid<MarkWish>(c, 'json'))),
    addPhoto: async (c) =>
      answered(
        c,
        await addPhoto(served, queue, part(c, 'filter'), valid<{ name: string }>(c, 'query').name, c),
      ),
    tile: (c) => tile(served, c),
    original: (c) => original(served, c),
    ...reportDeeds(served),
    claimFromCounts: (c) => answered(c, claimDeed(valid(c, 'json'))),
    flow: (c) => answered(c, flowReport(valid(c, 'json'))),
    claimDetails: async (c) =>
      answered(c, await claimDetailsView(served, part(c, 'study'), part(c, 'specimen'))),
    planDesign: async (c) => answered(c, await (served.planner ?? planReport)(valid(c, 'json'))),
    progress: (c) =>
      progressStream(queue, c, async () => !((await doorkeeper(lent, 'progress', c)) instanceof Response)),
    ...publishedAnswers(served),
    ...runAnswers(served, queue),
    ...evidenceAnswers(served),
    ...spectraAnswers(served),
    ...archiveAnswers(served),
    ...roundAnswers(served),
    ...packetAnswers(served),
    ...benchAnswers(served),
    ...networkAnswers(served),
  });
  for (const name of Object.keys(ROUTES) as RouteName[]) {
    // Whoever works now: a deed is done in the name that its request carries.
    const deed = async (c: Context) => {
      const worker = await doorkeeper(lent, name, c);
      return worker instanceof Response ? worker : deedsFor(worker)[name](c);
    };
    app.openapi(routeOf(name), deed as never);
  }

  app.doc31(DOCUMENT_PATH, {
    openapi: '3.1.0',
    info: {
      title: 'Retentate',
      version: lent.version,
      description:
        'A laboratory: studies, runs, filters, photos, particles, marks and the claim. Units are in the names.',
    },
  });
  app.all('/api/*', (c) =>
    refusalAnswer(
      c,
      'no-such-route',
      `There is no ${c.req.method} ${c.req.path}; see ${DOCUMENT_PATH}.`,
      404,
    ),
  );
  if (lent.screens !== null) app.get('*', screens(lent.screens));
  app.notFound((c) => refusalAnswer(c, 'no-such-page', 'There is no such page.', 404));
  app.onError((failure, c) => {
    if (failure instanceof HTTPException && failure.status < 500) {
      return refusalAnswer(c, 'not-of-the-shape', `The request cannot be read: ${failure.message}.`, 400);
    }
    lent.log(`${c.req.method} ${c.req.path}: ${failure.stack ?? failure.message}`);
    const { why, message } = troubleOf(failure, { places: !lent.group });
    return refusalAnswer(c, why, message, statusOfTrouble(why));
  });
  return app as OpenAPIHono;
}
