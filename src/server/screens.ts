import { readdirSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { extname, join, relative, sep } from 'node:path';
import type { Handler } from 'hono';

const MEDIA: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.woff2': 'font/woff2',
  '.json': 'application/json',
  '.webmanifest': 'application/manifest+json',
  '.txt': 'text/plain; charset=utf-8',
};

/**
 * The built screens. What may be served is listed once at the start, so that no address is ever made into a path: an
 * address is looked up in the list or it is a place within the application, which is its one page.
 */
export function screens(folder: string): Handler {
  const files = new Map<string, string>();
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue;
    const path = join(entry.parentPath, entry.name);
    files.set(`/${relative(folder, path).split(sep).join('/')}`, path);
  }
  return async (c) => {
    const asked = c.req.path === '/' ? '/index.html' : c.req.path;
    const known = files.get(asked);
    // A missing file of the build is missing; any other address is a place within the application.
    const path = known ?? (extname(asked) === '' ? files.get('/index.html') : undefined);
    if (path === undefined) return c.notFound();
    // Names of built files hold a hash of their content; the page itself is asked for anew each time.
    const forEver = asked.startsWith('/assets/');
    return c.body(await readFile(path), 200, {
      'content-type': MEDIA[extname(path)] ?? 'application/octet-stream',
      'cache-control': forEver ? 'public, max-age=31536000, immutable' : 'no-cache',
    });
  };
}
