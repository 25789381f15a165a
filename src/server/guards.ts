import type { MiddlewareHandler } from 'hono';

/** Only this machine's own names, at the port that is served. */
const OWN_NAMES = ['127.0.0.1', 'localhost', '[::1]'];

const refuse = (why: string, message: string) => ({ refusal: { why, message } });

/**
 * A browser on this machine reaches the server from any page that it shows, so a page of another site must be kept out:
 * by Host (a foreign name that resolves to this machine), by Origin and by what the browser says of the request's site.
 */
export function ownPagesOnly(port: () => number, site: string | null = null): MiddlewareHandler {
  const published = site === null ? null : new URL(site);
  return async (c, next) => {
    const own = OWN_NAMES.map((name) => `${name}:${port()}`);
    const hosts = published ? [published.host, ...own] : own;
    const host = c.req.header('host') ?? '';
    if (!hosts.includes(host)) {
      return c.json(
        refuse('foreign-host', `This laboratory answers at http://${hosts[0]} alone; open it there.`),
        403,
      );
    }
    const origin = c.req.header('origin');
    const origins = [...own.map((name) => `http://${name}`), ...(published ? [published.origin] : [])];
    if (origin !== undefined && !origins.includes(origin)) {
      return c.json(refuse('foreign-origin', 'A page of another site may not use this laboratory.'), 403);
    }
    const site = c.req.header('sec-fetch-site');
    if (c.req.path.startsWith('/api') && (site === 'cross-site' || site === 'same-site')) {
      return c.json(refuse('foreign-origin', 'A page of another site may not use this laboratory.'), 403);
    }
    return next();
  };
}

/**
 * What the page may do: its own scripts, styles, pictures and connections, nothing from elsewhere and nothing written into
 * the page by names or notes.
 */
const CONTENT_POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self' 'unsafe-inline'",
  "img-src 'self' data: blob:",
  "font-src 'self'",
  "connect-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'self'",
  "frame-ancestors 'none'",
].join('; ');

export const safeHeaders: MiddlewareHandler = async (c, next) => {
  await next();
  c.header('content-security-policy', CONTENT_POLICY);
  c.header('x-content-type-options', 'nosniff');
  c.header('referrer-policy', 'no-referrer');
  c.header('cross-origin-resource-policy', 'same-origin');
  c.header('cross-origin-opener-policy', 'same-origin');
  if (!c.res.headers.has('cache-control')) c.header('cache-control', 'no-store');
};
