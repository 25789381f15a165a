import { createRoute, z } from '@hono/zod-openapi';
import { RefusedAnswer, ROUTES, type Route, type RouteName } from '../api/index.ts';

/** Documentation for programs, OpenAPI 3.1; made from the same list as the routes. */
export const DOCUMENT_PATH = '/api/openapi.json';

const refusalOf = (description: string) => ({
  description,
  content: { 'application/json': { schema: RefusedAnswer } },
});

function answerOf(route: Route) {
  const content =
    typeof route.answer === 'string'
      ? {
          [route.answer]: {
            schema: z
              .string()
              .meta({ format: route.answer === 'text/event-stream' ? 'event-stream' : 'binary' }),
          },
        }
      : { 'application/json': { schema: route.answer } };
  return { description: 'Done.', content };
}

function bodyOf(route: Route) {
  if (route.body === undefined) return {};
  const content =
    route.body === 'bytes'
      ? { 'application/octet-stream': { schema: z.string().meta({ format: 'binary' }) } }
      : { 'application/json': { schema: route.body } };
  return { body: { content, required: true } };
}

/** One route of the list as the framework takes it. */
export function routeOf(name: RouteName) {
  const route: Route = ROUTES[name];
  return createRoute({
    operationId: name,
    method: route.method,
    path: route.path,
    summary: route.does,
    request: {
      ...(route.params ? { params: route.params } : {}),
      ...(route.query ? { query: route.query } : {}),
      ...bodyOf(route),
    },
    responses: {
      200: answerOf(route),
      400: refusalOf('The request is not of the stated shape.'),
      404: refusalOf('There is no such thing in this laboratory.'),
      409: refusalOf('The laboratory has moved on; read it anew.'),
      422: refusalOf('It cannot be done, and why.'),
    },
  });
}
