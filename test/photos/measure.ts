/**
 * `npm run measure:photos`: draws the measuring sets (kept in .cache), finds particles, and prints the figures.
 *
 *   --set ordinary,hard,scale,blank,example,nuclei   which sets (default: all)
 *   --held-out                               the seeds kept apart, for figures that are told to others
 *   --fitting                                the seeds that weights are fitted to
 *   --photo 7                                one photograph of the set
 *   --smallest 50                            smallest size asked for, µm (default: what the optics allow)
 *   --false-finds 0.5                        false finds accepted on an empty photograph
 *   --overlay out.png                        writes the last photograph with hits, misses and false finds
 *   --finder opencv|skimage                  a general-purpose library's pipeline instead of ours, for comparison
 *   --each                                   a line for every photograph
 */
import { parseArgs } from 'node:util';
import { classicalFinder } from '../../src/science/imaging/index.ts';
import { mm, um } from '../../src/units/index.ts';
import type { Family } from './drawing/sets.ts';
import { type JudgedFinding, type JudgedPhoto, judgePhoto } from './judge-photo.ts';
import { measureNuclei } from './nuclei.ts';
import { openPhoto } from './open-photo.ts';
import { drawOverlay } from './overlay.ts';
import { storedExample, storedSet } from './sets-on-disk.ts';
import { MEASURED, type MeasuredSet, tableOf } from './table.ts';
import { yardstickFinding } from './yardstick-finding.ts';

const { values } = parseArgs({
  options: {
    set: { type: 'string', default: [...MEASURED, 'nuclei'].join(',') },
    'held-out': { type: 'boolean', default: false },
    fitting: { type: 'boolean', default: false },
    photo: { type: 'string' },
    smallest: { type: 'string' },
    'false-finds': { type: 'string', default: '0.5' },
    overlay: { type: 'string' },
    finder: { type: 'string', default: 'classical' },
    each: { type: 'boolean', default: false },
  },
});

const family: Family = values['held-out'] ? 'held-out' : values.fitting ? 'fitting' : 'tuned';
const smallest = values.smallest ? Number(values.smallest) : null;
const only = values.photo ? Number(values.photo) : undefined;
const sets = values.set.split(',');
const unknown = sets.find((s) => s !== 'nuclei' && !MEASURED.includes(s as MeasuredSet));
if (unknown) {
  console.error(`There is no set “${unknown}”: ${MEASURED.join(', ')} or nuclei.`);
  process.exit(2);
}

/** Decodes and finds. Without a printed grid a user who asks for one must be told so: the wish stays the same. */
async function find(path: string, pitchMm: number): Promise<JudgedFinding> {
  if (values.finder !== 'classical') return yardstickFinding(path, pitchMm, values.finder);
  return classicalFinder.find(await openPhoto(path), {
    scale: { from: 'printed-grid', pitch: mm(pitchMm) },
    smallest: smallest === null ? null : um(smallest),
    falseFindsPerBlank: Number(values['false-finds']),
  });
}

const judged = new Map<MeasuredSet, JudgedPhoto[]>();
for (const set of MEASURED) {
  if (!sets.includes(set)) continue;
  const photos: JudgedPhoto[] = [];
  for await (const photo of set === 'example' ? storedExample(only) : storedSet(set, family, only)) {
    const started = performance.now();
    const finding = await find(photo.path, photo.truth.scale.pitch_mm ?? 3.1);
    const took = performance.now() - started;
    const result = judgePhoto(photo.truth, finding, smallest);
    photos.push(result);
    if (values.each || only !== undefined) {
      const scale =
        result.scaleError === null ? (result.refusal ?? 'none') : `${(100 * result.scaleError).toFixed(3)} %`;
      console.log(
        `${photo.name}: ${result.hits.length} hits, ${result.misses.length} misses, ${result.falseFinds.length} false ` +
          `(${result.passedOver} passed over), floor ${result.floorUm.toFixed(0)} µm, scale ${scale}, ${took.toFixed(0)} ms`,
      );
    }
    if (values.overlay) await drawOverlay(photo.path, result, values.overlay);
  }
  judged.set(set, photos);
}

if (judged.size > 0)
  console.log(
    `\nMeasured on drawn photographs, ${family} seeds, finder: ${values.finder}.\n${tableOf(judged)}`,
  );
if (sets.includes('nuclei')) console.log(`\n${await measureNuclei()}`);
