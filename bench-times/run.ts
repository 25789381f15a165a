/**
 * Times as ratios against a named yardstick, both measured in this one run: `npm run bench`.
 * `--mosaic` adds the 400-megapixel filter. Nothing here is asserted: machines are noisy.
 */
import { cpus } from 'node:os';
import { benchCounting } from './counting.ts';
import { benchImaging } from './imaging.ts';
import { benchLooking } from './looking.ts';
import { benchPlaces } from './places.ts';

const print = (line: string): void => {
  process.stdout.write(`${line}\n`);
};

print(`${cpus().length} × ${cpus()[0]?.model ?? 'unknown processor'}, Node ${process.version}`);
benchCounting(print);
await benchImaging(print, { mosaic: process.argv.includes('--mosaic') });
await benchLooking(print);
await benchPlaces(print);
