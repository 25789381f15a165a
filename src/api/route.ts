/** What a route of the HTTP interface is, and the parts that many paths share. Each topic lists its own in routes/. */
import { z } from 'zod';

export interface Route {
  readonly method: 'get' | 'post' | 'put';
  /** With {names} for its parts. */
  readonly path: `/api/${string}`;
  readonly does: string;
  readonly params?: z.ZodObject;
  readonly query?: z.ZodObject;
  /** Shape of the JSON body; `bytes` for a photo's own bytes. */
  readonly body?: z.ZodType | 'bytes';
  /** Shape of the JSON answer, or the media type of one that is not JSON. */
  readonly answer:
    | z.ZodType
    | 'image/jpeg'
    | 'image/svg+xml'
    | 'application/octet-stream'
    | 'text/event-stream';
}

export const route = <const R extends Route>(r: R): R => r;

/** A UUID, as every record has one. */
export const id = z
  .string()
  .regex(/^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/, 'not an id of this laboratory');
export const ofStudy = z.object({ study: id });
