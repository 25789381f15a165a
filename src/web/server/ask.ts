import type { z } from 'zod';
import type { ROUTES, RouteName } from '../../api/index.ts';
import { ACCOUNT_PATHS } from './account-paths.ts';
import { COUNTING_PATHS } from './counting-paths.ts';
import { EVIDENCE_PATHS } from './evidence-paths.ts';
import { RUN_PATHS } from './run-paths.ts';
import { SPECTRA_PATHS } from './spectra-paths.ts';
import { STUDY_PATHS } from './study-paths.ts';
import { workingHeader } from './working.ts';

type Routes = typeof ROUTES;
export type Answer<N extends RouteName> = Routes[N]['answer'] extends z.ZodType
  ? z.output<Routes[N]['answer']>
  : never;
export type Body<N extends RouteName> = Routes[N] extends { body: infer B }
  ? B extends z.ZodType
    ? z.input<B>
    : never
  : never;

/**
 * Method and path of every route that the screens use. The types are the routes of `api/` themselves, so a route that
 * moves does not compile here; the shapes' parsers stay on the server and out of the first page.
 */
const ROUTE: { readonly [N in UsedRoute]: readonly [method: Routes[N]['method'], path: Routes[N]['path']] } =
  {
    laboratory: ['get', '/api/laboratory'],
    studies: ['get', '/api/studies'],
    study: ['get', '/api/studies/{study}'],
    standing: ['get', '/api/studies/{study}/standing'],
    runs: ['get', '/api/studies/{study}/runs'],
    filters: ['get', '/api/studies/{study}/filters'],
    marks: ['get', '/api/studies/{study}/marks'],
    undo: ['post', '/api/studies/{study}/undo'],
    redo: ['post', '/api/studies/{study}/redo'],
    addPhoto: ['put', '/api/filters/{filter}/photos'],
    particles: ['get', '/api/photos/{photo}/particles'],
    mark: ['post', '/api/photos/{photo}/marks'],
    tile: ['get', '/api/photos/{photo}/tiles/{level}/{column}/{row}'],
    original: ['get', '/api/photos/{photo}/original'],
    progress: ['get', '/api/progress'],
    report: ['get', '/api/studies/{study}/report'],
    ...ACCOUNT_PATHS,
    ...COUNTING_PATHS,
    ...EVIDENCE_PATHS,
    ...RUN_PATHS,
    ...SPECTRA_PATHS,
    ...STUDY_PATHS,
  };
type UsedRoute = Exclude<RouteName, 'claim' | 'filter' | 'photo' | 'claimFromCounts' | 'flow'>;
export type Parts = Readonly<Record<string, string | number>>;

/** The address of a route with its parts filled in, each encoded. */
export function addressOf(name: UsedRoute, parts: Parts = {}): string {
  return ROUTE[name][1].replace(/\{(\w+)\}/g, (_, part: string) => {
    const value = parts[part];
    if (value === undefined) throw new RangeError(`address of ${name}: the part “${part}” is missing`);
    return encodeURIComponent(String(value));
  });
}

/** The server answered, and declined: the sentence is meant for the person. */
export class Declined extends Error {
  readonly why: string;
  readonly status: number;
  constructor(status: number, why: string, message: string) {
    super(message);
    this.why = why;
    this.status = status;
  }
}

/** Nobody answered: the server is stopped or out of reach. */
export class NobodyAnswers extends Error {
  constructor() {
    super('The laboratory’s program does not answer.');
  }
}

/** One request; the answer is of the route's own shape. Throws Declined or NobodyAnswers. */
export async function ask<N extends UsedRoute>(
  name: N,
  parts: Parts = {},
  body?: Body<N>,
): Promise<Answer<N>> {
  const method = ROUTE[name][0].toUpperCase();
  let answer: Response;
  try {
    answer = await fetch(addressOf(name, parts), {
      method,
      headers: { ...workingHeader(), ...(body === undefined ? {} : { 'content-type': 'application/json' }) },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    });
  } catch {
    throw new NobodyAnswers();
  }
  return (await read(answer)) as Answer<N>;
}

/** The JSON of an answer, or the reason for which there is none. */
export async function read(answer: Response): Promise<unknown> {
  const given: unknown = await answer.json().catch(() => null);
  if (answer.ok && given !== null) return given;
  throw declined(answer.status, given);
}

export function declined(status: number, given: unknown): Declined | NobodyAnswers {
  const refusal = (given as { refusal?: { why?: unknown; message?: unknown } } | null)?.refusal;
  if (typeof refusal?.message === 'string') {
    return new Declined(status, String(refusal.why), refusal.message);
  }
  if (status === 502 || status === 503 || status === 504 || status === 0) return new NobodyAnswers();
  return new Declined(status, 'no-sentence', `The program answered ${status} without saying why. Try again.`);
}
