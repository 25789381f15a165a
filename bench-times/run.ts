/**
 * Times as ratios against a named yardstick, both measured in this one run: `npm run bench`.
 * `--mosaic` adds the 400-megapixel filter; `--write` also writes docs/times.md. Nothing here is asserted: machines are noisy.
 */
import { writeFile } from 'node:fs/promises';
import { cpus, loadavg } from 'node:os';
import { fileURLToPath } from 'node:url';
import { benchCounting } from './counting.ts';
import { benchImaging } from './imaging.ts';
import { benchLooking } from './looking.ts';
import { benchPlaces } from './places.ts';

const parts: { readonly title: string; readonly lines: string[] }[] = [];

async function part(title: string, measure: (print: (line: string) => void) => unknown): Promise<void> {
  const lines: string[] = [];
  parts.push({ title, lines });
  await measure((line) => {
    lines.push(line);
    process.stdout.write(`${line}\n`);
  });
}

const busyBefore = loadavg()[0]!;
const machine = `${cpus().length} × ${cpus()[0]?.model ?? 'unknown processor'}, Node ${process.version}`;
process.stdout.write(`${machine}\n`);
await part('Counting', benchCounting);
await part('Finding particles', (print) =>
  benchImaging(print, { mosaic: process.argv.includes('--mosaic') }),
);
await part('Looking at a large filter', benchLooking);
await part('Places of a large study, and the first page', benchPlaces);

if (process.argv.includes('--write')) {
  const text = [
    '# Times',
    '',
    `Written by \`npm run bench -- --mosaic --write\` on ${new Date().toISOString().slice(0, 10)}: ${machine}. When it began, ` +
      `${busyBefore.toFixed(1)} other processes on average wanted a processor; times of a busy machine say little, ratios within a run more. ` +
      'Nothing of this is asserted by a test.',
    '',
    ...parts.flatMap(({ title, lines }) => [
      `## ${title}`,
      '',
      ...lines.map((line) => `- ${line.trim()}`),
      '',
    ]),
  ];
  await writeFile(fileURLToPath(new URL('../docs/times.md', import.meta.url)), text.join('\n'));
}
