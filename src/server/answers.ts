/** How what the house gives back becomes an answer over HTTP, and how a request is read. */
import type { Context } from 'hono';
import type { Outcome } from '../units/index.ts';
import { statusOf } from './refusal-status.ts';

export type Answering = (c: Context) => Response | Promise<Response>;

export function answered<T>(
  c: Context,
  outcome: Outcome<T>,
  shape: (value: T) => unknown = (value) => value,
): Response {
  if (outcome.ok) return c.json(shape(outcome.value) as object);
  const { why, message } = outcome.refusal;
  return c.json({ refusal: { why, message } }, statusOf(why));
}

/** A part of the path, checked against its shape before. */
export const part = (c: Context, name: string): string => c.req.param(name) ?? '';
/** What the framework checked against the route's shape. */
export const valid = <T>(c: Context, target: 'json' | 'query'): T => c.req.valid(target as never) as T;
