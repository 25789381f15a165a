/** One file of the tests with all that it imports of the project, for processes that are started and killed many times. */
import fs from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

/** Path of the built file; packages stay outside it, so it lies within the project. */
export async function bundled(entry: string): Promise<string> {
  const name = path.basename(entry, '.ts');
  const outDir = path.join(ROOT, 'dist/.tests', `${name}-${process.pid}`);
  await build({
    configFile: false,
    root: ROOT,
    logLevel: 'error',
    build: { ssr: entry, outDir, target: 'node20', minify: false, emptyOutDir: true },
  });
  process.once('exit', () => fs.rmSync(outDir, { recursive: true, force: true }));
  return path.join(outDir, `${name}.js`);
}
