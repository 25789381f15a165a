#!/usr/bin/env node
/** The command `retentate`: joins the doors to decoding and store. Heavy rooms are fetched when a command asks for them. */
import { readFileSync } from 'node:fs';
import { runCommand } from '../cli/index.ts';

const interrupted = new AbortController();
process.once('SIGINT', () => interrupted.abort());
process.once('SIGTERM', () => interrupted.abort());
// A reader that closes the pipe early (head, less) is no failure.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
  process.exit(0);
});

process.exitCode = await runCommand(
  process.argv.slice(2),
  {
    version: version(),
    photoSearch: async () => (await import('./photo-search.ts')).photoSearch(),
    archives: async () => (await import('./archive-tools.ts')).archiveTools(version()),
    spectra: async () => (await import('./spectrum-tools.ts')).spectrumTools(),
    whole: async () => (await import('./whole-laboratory.ts')).wholeTools(version()),
    group: async () =>
      (await import('./group-tools.ts')).groupTools(version(), (text) => process.stderr.write(`${text}\n`)),
    laboratory: async () =>
      (await import('./laboratory-tools.ts')).laboratoryTools(version(), (text) =>
        process.stderr.write(`${text}\n`),
      ),
  },
  {
    out: (text) => process.stdout.write(text),
    err: (text) => process.stderr.write(text),
    watched: process.stderr.isTTY === true,
    signal: interrupted.signal,
  },
);

/** From the package's own manifest, which lies beside `src` in the source and beside `dist` once built. */
function version(): string {
  const from = import.meta.url.endsWith('.ts') ? '../../package.json' : '../../../package.json';
  return JSON.parse(readFileSync(new URL(from, import.meta.url), 'utf8')).version;
}
