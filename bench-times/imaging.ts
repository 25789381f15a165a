/**
 * How long one photograph of 24 megapixels takes, decoding included, against OpenCV's and scikit-image's pipeline on the
 * same photograph in the same minute; with --mosaic also 400 megapixels.
 *
 *   tsx bench-times/imaging.ts [--mosaic] [--photo FILE]
 *
 * FILE, a photograph with squares of 3.1 mm, takes the place of the drawn one.
 */
import { execFile } from 'node:child_process';
import { availableParallelism, cpus } from 'node:os';
import { fileURLToPath } from 'node:url';
import { parseArgs, promisify } from 'node:util';
import { build } from '../scripts/prepare.mjs';
import { mm } from '../src/units/index.ts';
import { storedMosaic } from '../test/photos/mosaic.ts';
import { largePhoto, PITCH_MM } from './imaging-photo.ts';
import { askYardstick, pythonWith, type YardstickLibrary } from './imaging-yardstick.ts';

/** The best of so many rounds is told, of ours and of OpenCV's alike: the first ones compile. */
const REPEATS = 7;

interface Run {
  readonly megapixels: number;
  readonly decode_s: number | null;
  readonly total_s: number;
  readonly processor_s: number;
  readonly found: number;
  readonly peak_mb: number;
}

/** In a process of its own, so that the peak memory is that of this work alone. */
async function ours(photo: string, repeat: number): Promise<Run> {
  const script = fileURLToPath(new URL('./imaging-run.mjs', import.meta.url));
  const args = [script, photo, String(PITCH_MM), String(repeat)];
  const { stdout } = await promisify(execFile)(process.execPath, args, { maxBuffer: 1 << 26 });
  return JSON.parse(stdout);
}

/** Several photographs at once on all cores: seconds per photograph. */
async function together(photo: string): Promise<number> {
  const { findingCrew }: typeof import('../src/decode/index.ts') = await import(BUILT);
  const crew = findingCrew();
  const order = {
    path: photo,
    name: 'bench',
    wish: { scale: { from: 'printed-grid', pitch: mm(PITCH_MM) }, smallest: null, falseFindsPerBlank: 0.5 },
  } as const;
  await Promise.all(Array.from({ length: crew.members }, () => crew.search(order)));
  const n = crew.members;
  const started = performance.now();
  await Promise.all(Array.from({ length: n }, () => crew.search(order)));
  const seconds = (performance.now() - started) / 1000 / n;
  await crew.close();
  return seconds;
}

/** The built program is measured, as its users run it. */
const BUILT = new URL('../dist/src/decode/index.js', import.meta.url).href;

const s = (v: number): string => `${v.toFixed(2)} s`;

/** Prints the lines as they are known. */
export async function benchImaging(
  print: (line: string) => void,
  options: { readonly mosaic?: boolean; readonly photo?: string } = {},
): Promise<void> {
  print(
    `${cpus()[0]?.model ?? 'unknown processor'}, ${availableParallelism()} cores, Node ${process.version}`,
  );
  await build();
  const photo = options.photo ?? (await largePhoto());
  const run = await ours(photo, REPEATS);
  const decode = run.decode_s ?? 0;
  print(
    `ours, one photograph of ${run.megapixels.toFixed(0)} megapixels: ${s(run.total_s)}, of which decoding ${s(decode)} ` +
      `(${(run.total_s / decode).toFixed(1)} × decoding), ${run.found} found, processor ${s(run.processor_s)}, peak ${run.peak_mb.toFixed(0)} MB`,
  );
  const shared = await together(photo);
  print(`ours, all cores at once: ${s(shared)} a photograph`);
  for (const library of ['opencv', 'skimage'] as YardstickLibrary[]) {
    const python = await pythonWith(library);
    if (!python) {
      print(`${library}: not compared, because no Python with ${library} was found.`);
      continue;
    }
    const other = await askYardstick(python, photo, PITCH_MM, library, {
      repeat: library === 'opencv' ? REPEATS : 1,
    });
    print(
      `${library}: ${s(other.total_s)}, of which decoding ${s(other.decode_s)}, ${other.found} found, processor ${s(other.processor_s)}, peak ${other.peak_mb.toFixed(0)} MB; ` +
        `ours takes ${(run.total_s / other.total_s).toFixed(2)} of it for one photograph, ${(shared / other.total_s).toFixed(2)} a photograph on all cores, ${(run.processor_s / other.processor_s).toFixed(2)} of its processor time ` +
        `(goal ${library === 'opencv' ? '≤ 0.50' : '≤ 0.10'})`,
    );
  }
  if (!options.mosaic) return;
  const { path, truth } = await storedMosaic(20_000, (share) => {
    if (Math.round(share * 100) % 10 === 0) print(`  drawing the mosaic: ${Math.round(share * 100)} %`);
  });
  const large = await ours(path, 1);
  const perPixel = large.total_s / large.megapixels / (run.total_s / run.megapixels);
  const work = large.processor_s / large.megapixels / (run.processor_s / run.megapixels);
  print(
    `ours, a mosaic of ${large.megapixels.toFixed(0)} megapixels: ${s(large.total_s)}, ${perPixel.toFixed(2)} × the time and ${work.toFixed(2)} × the processor time ` +
      `per pixel at ${run.megapixels.toFixed(0)} (goal ≤ 1.1), ${large.found} found of ${truth.pieces.length} drawn, peak ${large.peak_mb.toFixed(0)} MB (goal ≤ 700)`,
  );
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const { values } = parseArgs({ options: { mosaic: { type: 'boolean' }, photo: { type: 'string' } } });
  await benchImaging((line) => console.log(line), values);
}
